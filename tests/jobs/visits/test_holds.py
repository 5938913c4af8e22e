"""What holds each panel: unrated until somebody states it with a source, on record."""

from dataclasses import replace
from decimal import Decimal

import pytest
from django.urls import reverse

from jobs.visits.reports.loads import day_paths, names_of
from quotes.safety.adapter import panel_path, subjects_of
from quotes.safety.engine import Rated
from quotes.safety.models import LoadStatement
from shared.length import UnitSystem
from shared.models import LedgerIsAppendOnlyError
from tests.factories.jobs import make_full_job
from tests.factories.visits import make_day
from tests.pages import BAD_TEXTS, queries, refused, soup, text

pytestmark = pytest.mark.django_db


@pytest.fixture
def day(owner, shop):
    return make_day(by=owner)


@pytest.fixture
def url(day):
    return reverse("jobs:site-day-holds", args=(day.pk,))


@pytest.fixture
def page(client_as, office):
    return client_as(office)


def state(page, url, subject, load="900 N", source="Engineer’s letter, 3 March"):
    typed = {"subject": subject, "load_n": load, "source": source}
    return page.post(url, typed, follow=True)


def cleared(day):
    return [each.path.cleared for each in day_paths(day)]


def test_nothing_is_cleared_by_itself(page, url, day):
    shown = soup(page.get(url))
    assert cleared(day) == [False, False]
    assert shown.text.count("not known") == 11


def test_a_panel_is_cleared_once_all_that_carries_it_is_stated(page, url, day):
    for subject in names_of(day_paths(day)):
        state(page, url, subject)
    assert cleared(day) == [True, True]
    assert "Engineer’s letter, 3 March" in soup(page.get(url)).text


def test_all_but_one_is_not_enough(page, url, day):
    *most, _last = names_of(day_paths(day))
    for subject in most:
        state(page, url, subject)
    assert cleared(day) == [True, False]
    assert "no rating for the frame’s corners" in soup(page.get(url)).text


def test_too_little_is_said_in_figures(page, url, day):
    state(page, url, "item:chain", load="20 N")
    assert (
        "the welded chain is rated 20 N and must hold 58 N" in soup(page.get(url)).text
    )


def test_what_was_rated_when_the_quote_was_sent_counts(owner, shop):
    day = make_day(by=owner, job=make_full_job(by=owner, rated_n=500.0))
    missing = [each.path.missing for each in day_paths(day)]
    assert all("no rating for the welded chain" not in lines for lines in missing)
    assert all(
        line.element.rating.source == "maker's tag"
        for each in day_paths(day)
        for line in each.lines
        if line.element.subject.startswith("item:")
    )


def test_a_statement_about_one_room_says_nothing_of_another(page, url, day, owner):
    state(page, url, "framing:room-1:ceiling")
    other = make_day(by=owner, job=make_full_job(by=owner, id="room-1"))
    assert "the framing of the ceiling has not been found" not in str(
        [each.path.missing for each in day_paths(other)]
    )
    third = make_full_job(by=owner)
    panel = third.panels.last()
    panel.snapshot["room"]["id"] = "room-2"
    panel.save()
    lone = make_day(by=owner, job=third, panels=(panel,))
    assert "has not been found" in day_paths(lone)[0].path.missing[0]


def test_taking_back_leaves_both_on_record(page, url, day):
    state(page, url, "item:chain")
    page.post(reverse("jobs:take-back-load", args=(day.pk,)), {"subject": "item:chain"})
    assert "no rating for the welded chain" in day_paths(day)[1].path.missing
    assert LoadStatement.objects.count() == 2


def test_statements_are_never_changed_nor_deleted(page, url):
    state(page, url, "item:chain")
    with pytest.raises(LedgerIsAppendOnlyError):
        LoadStatement.objects.update(load_n=1.0)
    with pytest.raises(LedgerIsAppendOnlyError):
        LoadStatement.objects.all().delete()


BAD = (
    ("subject", ""),
    ("subject", "item:anvil"),
    ("subject", "x" * 5000),
    ("load_n", ""),
    ("load_n", "plenty"),
    ("load_n", "500"),
    ("load_n", "-5 N"),
    ("load_n", "0 N"),
    ("load_n", "1e9 N"),
    ("load_n", "99999999999999 kN"),
    ("load_n", "5 stone"),
    ("load_n", "1" * 5000),
    ("source", ""),
    ("source", "   "),
    ("source", "x" * 201),
    *((field, junk) for field in ("subject", "load_n", "source") for junk in BAD_TEXTS),
)


@pytest.mark.parametrize(("field", "junk"), BAD)
def test_what_makes_no_sense_is_refused(page, url, field, junk):
    good = {"subject": "item:chain", "load_n": "900 N", "source": "Maker"}
    refused(page, url, good | {field: junk}, field)
    assert not LoadStatement.objects.exists()


@pytest.mark.parametrize("junk", ["", "item:anvil", "\0"])
def test_what_was_never_there_is_not_taken_back(page, day, junk):
    address = reverse("jobs:take-back-load", args=(day.pk,))
    assert page.post(address, {"subject": junk}).status_code == 422
    assert not LoadStatement.objects.exists()


def test_a_load_without_its_unit_is_asked_for_it(page, url):
    typed = {"subject": "item:chain", "load_n": "500", "source": "Maker"}
    beside = refused(page, url, typed, "load_n").select_one("#id_load_n_field")
    assert "Write the unit, too: 500 N or 500 lbf." in text(beside)


@pytest.mark.parametrize(("typed", "newtons"), [("500 N", 500.0), ("50 kg", 490.3325)])
def test_a_load_is_read_in_newtons_or_as_the_maker_prints_it(page, url, typed, newtons):
    state(page, url, "item:chain", load=typed)
    assert LoadStatement.objects.get().load_n == pytest.approx(newtons)


@pytest.mark.parametrize("who", ["maker", "fitter"])
def test_others_may_look_but_not_state(request, client_as, url, day, who):
    person = client_as(request.getfixturevalue(who))
    shown = soup(person.get(url))
    assert not shown.find(id="state-load")
    assert person.post(url, {}).status_code == 403
    take_back = reverse("jobs:take-back-load", args=(day.pk,))
    assert person.post(take_back, {}).status_code == 403


def test_a_reveal_panel_is_fixed_to_nothing(page, owner, shop):
    job = make_full_job(by=owner, kinds=(("reveal-panel", 800, 1200, 1),))
    day = make_day(by=owner, job=job)
    shown = soup(page.get(reverse("jobs:site-day-holds", args=(day.pk,))))
    assert text(shown.select_one("main .pill")) == "nothing hangs"


def test_a_suspended_grid_is_never_cleared(page, owner, shop):
    job = make_full_job(
        by=owner,
        kinds=(("hung-panel", 1200, 900, 1),),
        ceiling={"construction": "grid", "heated": False},
    )
    day = make_day(by=owner, job=job)
    url = reverse("jobs:site-day-holds", args=(day.pk,))
    for subject in names_of(day_paths(day)):
        state(page, url, subject, load="100000 N")
    assert cleared(day) == [False]
    assert "a suspended grid" in soup(page.get(url)).text


def test_queries_do_not_grow_with_kinds_of_panels(page, owner, shop):
    counts = []
    for kinds in (2, 20):
        sizes = tuple(("wall-panel", 600 + i * 10, 1200, 1) for i in range(kinds))
        day = make_day(by=owner, job=make_full_job(by=owner, kinds=sizes))
        counts.append(queries(page, reverse("jobs:site-day-holds", args=(day.pk,))))
    assert counts[0] == counts[1]


def test_a_cleat_below_the_panels_bottom_is_not_cleared_and_says_why(owner, shop):
    carried = day_paths(make_day(by=owner))[0].like.carried
    low = replace(
        carried.takeoff.hang,
        wall_cleats=tuple(
            replace(cleat, below_top_ticks=carried.takeoff.frame.height_ticks)
            for cleat in carried.takeoff.hang.wall_cleats
        ),
    )
    wrong = replace(carried, takeoff=replace(carried.takeoff, hang=low))
    path = panel_path(wrong, {}, units=UnitSystem.METRIC)
    assert not path.cleared
    assert path.missing == ("the cleat must lie above the bottom of the panel",)


def test_two_points_with_one_eye_are_not_cleared_whatever_is_stated(owner, shop):
    carried = day_paths(make_day(by=owner))[1].like.carried
    takeoff, (first, *_, last) = carried.takeoff, carried.takeoff.hang.points
    few = tuple(
        replace(item, quantity=Decimal(1)) if item.material == "ceiling-eye" else item
        for item in takeoff.items
    )
    hang = replace(takeoff.hang, points=(first, last))
    wrong = replace(carried, takeoff=replace(takeoff, hang=hang, items=few))
    rated = Rated(1e5, "Load test")
    stated = dict.fromkeys(subjects_of(carried), rated)
    path = panel_path(wrong, stated, units=UnitSystem.METRIC)
    assert not path.cleared
    (said,) = path.missing
    assert said.startswith("1 × ")
    assert said.endswith(" for 2 points: each needs its own")
