"""The service worker, the manifest, and the page of this device."""

import json
import re

import pytest
from django.contrib.staticfiles import finders
from django.test import Client
from django.urls import reverse

from shared.offline import worker
from tests.pages import soup

pytestmark = pytest.mark.django_db


def known(text):
    return json.loads(re.match(r"const KNOWN = (.*);\n", text)[1])


def test_the_worker_covers_the_whole_site_and_is_asked_for_anew():
    response = Client().get("/sw.js")
    assert response["Content-Type"].startswith("text/javascript")
    assert response["Service-Worker-Allowed"] == "/"
    assert response["Cache-Control"] == "no-cache"


def test_the_worker_names_what_pages_are_made_of(client_as, owner, shop):
    page = soup(client_as(owner).get(reverse("shared:device")))
    files = set(known(worker.script())["files"])
    used = [tag["src"] for tag in page.find_all("script")]
    used += [tag["href"] for tag in page.select("link[rel=stylesheet]")]
    assert len(used) > 5
    assert files.issuperset(used)
    assert "/static/shared/js/offline/store.js" in files
    assert "/static/shared/js/offline/sw.js" not in files


def test_another_file_is_another_version(tmp_path, monkeypatch):
    one = tmp_path / "one.js"
    one.write_text("1")
    monkeypatch.setattr(finders, "find", lambda path: str(one))
    before = worker._version(["one.js"])
    one.write_text("22")
    assert worker._version(["one.js"]) != before


def test_the_policy_lets_a_worker_of_ours_in(shop):
    policy = Client().get(reverse("shared:device"))["Content-Security-Policy"]
    assert "worker-src 'self'" in policy


def test_the_page_of_this_device_is_nobodys(shop):
    page = soup(Client().get(reverse("shared:device")))
    assert page.select_one("[data-device-page]")
    assert not page.body.has_attr("data-person")
    assert not page.select(".rail")


def test_the_manifest_can_be_installed(shop):
    page = soup(Client().get(reverse("shared:device")))
    path = page.find("link", rel="manifest")["href"].removeprefix("/static/")
    with open(finders.find(path), encoding="utf-8") as file:  # noqa: PTH123
        manifest = json.load(file)
    assert manifest["start_url"] == manifest["scope"] == "/"
    assert manifest["display"] == "standalone"
    sizes = {icon["sizes"] for icon in manifest["icons"]}
    assert {"192x192", "512x512"} <= sizes
    assert all(finders.find(f"shared/{icon['src']}") for icon in manifest["icons"])
