"""Where the work stands in each role's menu."""

import pytest
from django.urls import reverse

from tests.pages import soup, text

pytestmark = pytest.mark.django_db


def bar(client) -> list[str]:
    """Give what a phone's bar shows before “More”."""
    shown = soup(client.get(reverse("jobs:next-up")))
    items = shown.select(".rail__list > li:not(.rail__item--last)")
    return [text(i) for i in items if "rail__item--spare" not in i["class"]]


def test_a_fitters_bar_begins_with_the_van_and_the_bench(client_as, fitter, shop):
    assert bar(client_as(fitter)) == ["Next up", "Van", "Bench", "Clients", "Rooms"]


def test_a_makers_bar_has_the_saw_and_the_bench(client_as, maker, shop):
    assert bar(client_as(maker)) == ["Next up", "Rooms", "Builds", "Cutting", "Bench"]


def test_an_owners_bar_follows_the_work(client_as, owner, shop):
    assert bar(client_as(owner))[:3] == ["Next up", "Clients", "Rooms"]
