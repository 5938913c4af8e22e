"""Days are written in the order of the shop's locale, on every page and paper."""

import datetime as dt
import re
from pathlib import Path

import pytest
from django.conf import settings
from django.template import engines

from shared.conventions import Conventions, using
from shared.dates import FORMS, show_day

DAY = dt.date(2026, 11, 5)
ROOT = Path(settings.BASE_DIR)


@pytest.mark.parametrize(
    ("locale", "words"),
    [
        ("en_GB", "5 November 2026"),
        ("en_IE", "5 November 2026"),
        ("en_AU", "5 November 2026"),
        ("en_US", "November 5, 2026"),
        ("en_CA", "November 5, 2026"),
        ("de_AT", "5 November 2026"),
    ],
)
def test_the_order_is_the_locales(locale, words):
    with using(Conventions(locale=locale)):
        assert show_day(DAY) == words


@pytest.mark.parametrize("form", FORMS)
def test_each_form_begins_with_day_or_month(form):
    at = dt.datetime(2026, 11, 5, 9, 7, tzinfo=dt.UTC)
    with using(Conventions(locale="en_GB")):
        assert re.search(r"\b5 Nov", show_day(at, form))
    with using(Conventions(locale="en_US")):
        assert re.search(r"Nov[a-z]* 5", show_day(at, form))


def test_a_template_prints_it_and_nothing_for_none():
    template = engines["django"].from_string(
        "{{ a|day:'short' }}|{{ b|day|default:'–' }}"
    )
    assert template.render({"a": DAY, "b": None}) == "5 Nov 2026|–"


def test_a_day_without_a_form_is_not_written_the_american_way():
    template = engines["django"].from_string("{{ a }}, {{ b|date }}")
    assert template.render({"a": DAY, "b": DAY}) == "5 Nov 2026, 5 Nov 2026"


def test_no_template_has_an_order_of_its_own():
    for path in (ROOT / "templates").rglob("*.html"):
        found = re.findall(r"\|date(?::[\"']([^\"']*)[\"'])?", path.read_text())
        assert not [
            form for form in found if re.search(r"[jd].*[FMmn]|[FMmn].*[jd]", form)
        ], path
        assert "" not in found, path
