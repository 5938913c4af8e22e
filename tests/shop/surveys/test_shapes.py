"""The first survey of a room of a usual shape: every wall read, drawn at once."""

import pytest
from django.urls import reverse

from shop.surveys.engine import SHAPES, adjust, crossing
from shop.surveys.models import Survey
from tests.cast import AS_HTMX
from tests.factories.surveys import make_room, make_survey
from tests.pages import BAD_TEXTS, refused, shown, soup, text

pytestmark = pytest.mark.django_db


def url(room, shape):
    return f"{reverse('shop:survey-new', args=[room.pk])}?shape={shape}"


def typed(person, shape, **fields):
    sample = SHAPES[shape]
    lengths = zip(sample.names, sample.sample_mm, strict=True)
    angle = {"inside_angle": "135"} if sample.has_cut else {}
    return {
        "follows": "0",
        "height_ticks": "2500",
        "use": "",
        "walls_made_of": "brick",
        "construction": "",
        "measured_on": "2026-03-02",
        "measured_by": str(person.pk),
        "notes": "",
        **{f"wall_{name}": str(mm) for name, mm in lengths},
        **angle,
    } | fields


@pytest.mark.parametrize("shape", SHAPES)
def test_a_shapes_sample_closes_and_does_not_cross(shape):
    lines = SHAPES[shape].sample().lines
    closed = adjust(lines)
    assert max(map(abs, closed.changes_ticks)) < 320
    assert crossing(closed.corners) is None


@pytest.mark.parametrize("shape", SHAPES)
def test_a_length_for_each_wall_makes_the_room(client_as, fitter, shape):
    browser, room = client_as(fitter), make_room()
    form = soup(browser.get(url(room, shape)))
    assert len(form.select("input[name^=wall_]")) == len(SHAPES[shape].turns)
    assert form.select_one("svg[role=img]")
    page = soup(browser.post(url(room, shape), typed(fitter, shape), follow=True))
    walls = list(Survey.objects.get().walls.all())
    assert [w.name for w in walls] == list(SHAPES[shape].names)
    assert {w.construction for w in walls} == {"brick"}
    assert "don’t" not in text(page.select_one("#told"))


def test_an_uneven_cut_takes_what_is_left_on_its_other_side(client_as, fitter):
    room = make_room()
    client_as(fitter).post(url(room, "cut"), typed(fitter, "cut", inside_angle="120"))
    turns = [w.turn_millidegrees for w in Survey.objects.get().walls.all()]
    assert turns == [60_000, 30_000, 90_000, 90_000, 90_000]


@pytest.mark.parametrize(
    ("field", "value"),
    [
        *(("wall_B", bad) for bad in ("", "0", "-1", "long", "9 km", "5,000")),
        *(("inside_angle", bad) for bad in ("", "90", "180", "wide", "1e2", "-3")),
        *(("wall_A", bad) for bad in BAD_TEXTS),
        *(("inside_angle", bad) for bad in BAD_TEXTS),
        ("follows", "7"),
        ("walls_made_of", "cheese"),
    ],
)
def test_bad_input_is_refused_beside_its_field(client_as, fitter, field, value):
    room = make_room()
    sent = typed(fitter, "cut", **{field: value})
    if field == "follows":
        assert client_as(fitter).post(url(room, "cut"), sent).status_code == 422
    else:
        refused(client_as(fitter), url(room, "cut"), sent, field)
    assert not Survey.objects.exists()


def test_a_shape_nobody_knows_is_not_there(client_as, fitter):
    assert client_as(fitter).get(url(make_room(), "round")).status_code == 404


def test_the_next_survey_begins_from_the_last_whatever_shape_is_asked(
    client_as, fitter
):
    page = soup(client_as(fitter).get(url(make_survey().room, "l")))
    assert not page.select("input[name^=wall_]")


@pytest.mark.parametrize("shape", ["", "cut"])
def test_another_shape_keeps_what_was_typed(client_as, fitter, shape):
    room = make_room()
    plain = reverse("shop:survey-new", args=[room.pk])
    here = url(room, shape) if shape else plain
    sent = typed(fitter, "l", notes="Low door", heated="on", wall_A="not yet")
    answer = client_as(fitter).post(here, sent | {"other_shape": "1"}, headers=AS_HTMX)
    page = soup(answer)
    assert answer.status_code == 200
    assert page.form["action"] == here
    assert not page.select(".errorlist")
    kept = {"height_ticks": "2500", "walls_made_of": "brick", "notes": "Low door"}
    kept |= {"heated": True} | ({"wall_A": "not yet"} if shape else {})
    assert {name: shown(page, name) for name in kept} == kept
    assert not Survey.objects.exists()


def test_shapes_are_links_too(client_as, fitter):
    room = make_room()
    page = soup(client_as(fitter).get(url(room, "l")))
    links = page.select("#new-survey nav a")
    assert {a["href"] for a in links} == {a["hx-post"] for a in links}
    assert reverse("shop:survey-new", args=[room.pk]) in {a["href"] for a in links}
