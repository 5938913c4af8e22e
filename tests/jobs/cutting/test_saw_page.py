"""The saw's page: what to set next, ticks with and without a network, what was spoiled."""

import pytest
from django.urls import reverse

from jobs.cutting.adapter import request_of
from jobs.cutting.engine.results import rows_of
from jobs.cutting.models import CutPlan, CutTick, LostPart
from tests.cast import AS_HTMX
from tests.devices import write
from tests.factories.cutting import make_plan
from tests.pages import soup

pytestmark = pytest.mark.django_db


@pytest.fixture
def plan(shop, maker):
    return make_plan(by=maker)


def url(plan, name="cut-saw"):
    return reverse(f"jobs:{name}", args=(plan.pk,))


def first_key(plan):
    return rows_of(plan.result)[0].key


def test_it_shows_every_row_and_what_to_set_next(client_as, maker, plan):
    page = soup(client_as(maker).get(url(plan)))
    rows = rows_of(plan.result)
    assert len(page.select(".ticks__row")) == len(rows)
    assert page.select_one(".setting").get_text(strip=True)
    assert f"0 of {len(rows)}" in page.get_text(" ", strip=True)


def test_a_tick_moves_on_to_the_next_row(client_as, maker, plan):
    browser = client_as(maker)
    before = soup(browser.get(url(plan))).select_one(".setting").get_text()
    typed = {"key": first_key(plan), "on": "yes"}
    answer = browser.post(url(plan, "cut-tick"), typed, headers=AS_HTMX)
    assert b"<html" not in answer.content
    after = soup(answer)
    assert after.select_one("#cut-saw")
    assert after.select_one(".setting").get_text() != before
    assert CutTick.objects.get().by == maker
    left = soup(browser.get(url(plan), {"left": "1"}))
    assert len(left.select(".ticks__row")) == len(rows_of(plan.result)) - 1


def test_a_row_that_is_not_in_the_plan_is_refused(client_as, maker, plan):
    answer = client_as(maker).post(url(plan, "cut-tick"), {"key": "rip-1", "on": "yes"})
    assert answer.status_code == 422
    assert "no longer in the plan" in answer.content.decode()
    assert not CutTick.objects.exists()


def away(plan, key):
    usual = {"op": "cut-tick", "lane": f"cut-plan:{plan.pk}", "field": key}
    return write(plan, "yes", was="", **usual)


def test_a_tick_from_a_device_that_was_away(maker, plan, send):
    item = away(plan, first_key(plan))
    answers = [send(maker, item)[0]["status"] for _ in range(2)]
    assert answers == ["stored", "repeat"]
    assert set(CutTick.objects.standing(plan)) == {first_key(plan)}


def test_a_row_of_another_plan_goes_to_the_tray(maker, plan, send):
    (answer,) = send(maker, away(plan, "rip-1"))
    assert answer["status"] == "refused"
    assert answer["sentence"] == "This row is no longer in the cut plan."


def test_queries_do_not_grow_with_the_rows(shop, maker, client_as, count_queries):
    small = make_plan(by=maker)
    kinds = tuple(("wall-panel", 400 + 50 * n, 1200, 2) for n in range(4))
    large = make_plan(by=maker, kinds=kinds)
    assert len(rows_of(large.result)) > len(rows_of(small.result))
    browser = client_as(maker)
    counted = [count_queries(lambda p=p: browser.get(url(p))) for p in (small, large)]
    assert counted[0] == counted[1]


@pytest.mark.parametrize("name", ["cut-saw", "cut-spoiled"])
def test_who_may_not_cut_sees_neither(client_as, fitter, plan, name):
    assert client_as(fitter).get(url(plan, name)).status_code == 403


class TestSpoiled:
    def tick_all(self, browser, plan):
        for row in rows_of(plan.result):
            browser.post(url(plan, "cut-tick"), {"key": row.key, "on": "yes"})

    def test_what_would_follow_is_shown_before_anything_is_stored(
        self, client_as, maker, plan
    ):
        browser = client_as(maker)
        self.tick_all(browser, plan)
        typed = {"begun": str(plan.pieces_used), "lost-A": "1"}
        answer = browser.post(url(plan, "cut-spoiled"), typed)
        assert answer.status_code == 200
        assert soup(answer).select_one("#follows")
        assert not LostPart.objects.exists()
        assert browser.post(url(plan, "cut-spoiled"), typed | {"go": "yes"}).url
        new = CutPlan.objects.get(replaces=plan)
        assert sum(part.count for part in request_of(new).parts) == 1

    @pytest.mark.parametrize(
        ("typed", "sentence"),
        [
            ({"begun": "999"}, "999"),
            ({"begun": "abc"}, "abc"),
            ({"begun": "0", "lost-A": "1"}, "0 are ticked as cut"),
            ({"begun": "0", "useless": "77"}, "load the page again"),
        ],
    )
    def test_nonsense_is_refused_and_kept(
        self, client_as, maker, plan, typed, sentence
    ):
        answer = client_as(maker).post(url(plan, "cut-spoiled"), typed)
        assert answer.status_code == 422
        assert sentence in answer.content.decode()
        assert not LostPart.objects.exists()
