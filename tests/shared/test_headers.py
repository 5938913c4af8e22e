"""What goes out with every page, so that a browser lets nothing else in."""

import json

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

pytestmark = pytest.mark.django_db


@pytest.fixture
def page(client_as, owner, shop):
    return client_as(owner).get(reverse("shared:patterns"))


def test_the_policy_goes_out_with_a_page(page):
    policy = dict(
        directive.split(" ", 1)
        for directive in page["Content-Security-Policy"].split("; ")
    )
    assert policy["default-src"] == "'none'"
    assert policy["script-src"] == policy["style-src"] == "'self'"
    assert policy["frame-ancestors"] == policy["base-uri"] == "'none'"
    assert "unsafe" not in page["Content-Security-Policy"]


def test_no_page_may_be_framed_sniffed_or_referred_to_outside(page):
    assert page["X-Frame-Options"] == "DENY"
    assert page["X-Content-Type-Options"] == "nosniff"
    assert page["Referrer-Policy"] == "same-origin"


def test_htmx_is_set_up_for_that_policy(page):
    soup = BeautifulSoup(page.content, "html.parser")
    config = json.loads(soup.find("meta", {"name": "htmx-config"})["content"])
    assert config["allowEval"] is False
    assert config["includeIndicatorStyles"] is False
    assert config["historyCacheSize"] == 0
    swaps = [r for r in config["responseHandling"] if "422" in r["code"]]
    assert swaps[0]["swap"] is True


def test_every_script_and_sheet_comes_from_here(page):
    soup = BeautifulSoup(page.content, "html.parser")
    sources = [tag.get("src") for tag in soup.find_all("script")]
    sheets = [tag["href"] for tag in soup.find_all("link", rel="stylesheet")]
    assert len(sources) >= 2
    assert len(sheets) >= 2
    assert all(source.startswith("/static/") for source in [*sources, *sheets])
