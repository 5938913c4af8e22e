"""Closing a site day names what is open, asks how it ended, and keeps the answer."""

import pytest
from django.urls import reverse

from jobs.board.models import Panel, Stage
from jobs.visits.actions import tick
from jobs.visits.models import HowEnded, LooseEnd, SiteDay, SiteDayState
from jobs.visits.reports import van_page
from jobs.visits.reports.loads import day_paths, names_of
from quotes.safety.actions import state_load
from tests.factories.jobs import AT
from tests.factories.visits import make_day
from tests.pages import queries, soup, text

pytestmark = pytest.mark.django_db


@pytest.fixture
def day(owner, shop):
    return make_day(by=owner)


@pytest.fixture
def page(client_as, fitter):
    return client_as(fitter)


@pytest.fixture
def done(day):
    return reverse("jobs:site-day-done", args=(day.pk,))


def load(day, by, *, but=()):
    """Tick every line but some."""
    for key in van_page(day).keys - set(but):
        tick(day, key, on=True, by=by, at=AT)


def clear(day, by):
    """State a working load of everything that carries."""
    for subject, name in names_of(day_paths(day)).items():
        state_load(subject, name=name, load_n=5e3, source="Load test", by=by, at=AT)


def all_hang(day):
    return {"panel": [f"{panel.pk}:{panel.stage}" for panel in day.panels.all()]}


def shown(page, day):
    return soup(page.get(day.get_absolute_url()))


def test_a_loaded_van_and_cleared_panels_are_asked_about_nothing(page, day, owner):
    load(day, owner)
    clear(day, owner)
    form = shown(page, day).find("form", class_="form")
    assert not form.select("[name=left], [name=cleared_by]")


def test_what_is_not_ticked_is_named_and_asked_about(page, day, owner):
    load(day, owner, but=("tool:tape", f"panel:{day.panels.first().code}"))
    asked = shown(page, day).find(id="id_left_field")
    assert text(asked.summary) == "Not ticked on the van list: 2"
    assert asked.has_attr("open")
    names = [text(label) for label in asked.select("label")]
    assert names == [day.panels.first().code, "Tape measure and pencil"]
    assert not asked.select("[checked]")


def test_a_list_that_nobody_ticked_opens_by_a_tap(page, day):
    asked = shown(page, day).find(id="id_left_field")
    lines = len(van_page(day).keys)
    assert text(asked.summary) == f"Not ticked on the van list: {lines}"
    assert not asked.has_attr("open")
    assert len(asked.select("[name=left]")) == lines


def test_the_answer_is_kept_and_shown_with_the_day(page, day, done, owner):
    load(day, owner, but=("tool:tape", "tool:masking"))
    clear(day, owner)
    answer = page.post(done, all_hang(day) | {"left": "tool:tape"}, follow=True)
    kept = {end.key: end.how for end in LooseEnd.objects.all()}
    assert kept == {"tool:tape": HowEnded.LEFT, "tool:masking": HowEnded.TAKEN}
    messages = text(soup(answer).select_one("#messages"))
    assert "Left behind: Tape measure and pencil." in messages
    section = soup(answer).find(id="day-ended").find_parent("section")
    assert [text(dt) for dt in section.select("dt")] == [
        "Left behind",
        "Taken along, only not ticked",
    ]
    assert "1 left behind; 1 taken along, only not ticked." in soup(answer).text


def test_one_tap_takes_the_answer_back_with_the_closing(page, day, done, owner):
    load(day, owner, but=("tool:tape",))
    answer = page.post(done, all_hang(day) | {"left": "tool:tape"}, follow=True)
    page.post(soup(answer).select_one("#messages form")["action"])
    assert not LooseEnd.objects.exists()
    assert SiteDay.objects.get().state == SiteDayState.PLANNED
    assert {panel.stage for panel in Panel.objects.all()} == {Stage.PLANNED}


def test_what_hangs_uncleared_is_on_record_with_why_and_who_cleared_it(
    page, day, done, owner
):
    load(day, owner)
    asked = shown(page, day).find(id="id_cleared_by_field").find_parent("fieldset")
    assert "Hung panel on links and chain" in asked.text
    hangs = all_hang(day)["panel"][-1:]
    page.post(done, {"panel": hangs, "cleared_by": "Ms Moor, 12 March, by letter"})
    end = LooseEnd.objects.get()
    assert end.how == HowEnded.UNCLEARED
    assert end.name == f"{day.panels.last().code} Hung panel on links and chain"
    assert "no rating for the welded chain" in end.note
    assert end.note.endswith("Cleared, it was said: Ms Moor, 12 March, by letter")


def test_what_comes_back_uncleared_is_no_loose_end(page, day, done, owner):
    load(day, owner)
    page.post(done, {})
    assert not LooseEnd.objects.exists()
    assert SiteDay.objects.get().state == SiteDayState.DONE


def test_a_panel_cannot_hang_and_be_left_behind(page, day, done):
    first = day.panels.first()
    data = {
        "panel": f"{first.pk}:planned",
        "left": [f"panel:{first.code}", "tool:tape"],
    }
    response = page.post(done, data)
    assert response.status_code == 422
    again = soup(response)
    assert f"{first.code} can’t hang and be left behind" in again.text
    assert len(again.select("[name=left][checked]")) == 2
    assert [box["value"] for box in again.select("[name=panel][checked]")] == [
        f"{first.pk}:planned"
    ]
    assert not LooseEnd.objects.exists()


@pytest.mark.parametrize(
    ("field", "junk"),
    [
        ("left", "tool:anvil"),
        ("left", "a\0b"),
        ("left", "x" * 5000),
        ("cleared_by", "x" * 201),
        ("cleared_by", "a\0b"),
    ],
)
def test_an_answer_that_makes_no_sense_closes_nothing(page, day, done, field, junk):
    response = page.post(done, {field: junk})
    assert response.status_code == 422
    assert soup(response).find(id=f"id_{field}_field").select_one(".errorlist")
    assert SiteDay.objects.get().state == SiteDayState.PLANNED


def test_the_page_takes_no_more_queries_for_many_loose_ends(page, day, done, owner):
    load(day, owner, but=("tool:tape", "tool:masking"))
    address = day.get_absolute_url()
    page.get(address)
    open_day = queries(page, address)
    page.post(done, {})
    page.get(address)
    assert queries(page, address) <= open_day
