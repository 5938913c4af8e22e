"""The device tells before leaving what the server tells: same vectors, in Chromium."""

import json
from pathlib import Path

import pytest

from shared.conventions import Conventions, using
from shared.length import UnitSystem
from shop.surveys.actions.inside import finish_room
from shop.surveys.engine import CLEARANCE_TICKS, USUAL
from shop.surveys.engine.presets import PRESETS
from shop.surveys.models import Survey
from shop.surveys.reports.walk.leave import leave_told
from shop.surveys.reports.walk.told import told_words
from tests.factories.surveys import (
    AT,
    make_covering,
    make_opening,
    make_survey,
    wall_of,
)
from tests.vectors import make_ballpark, make_leave

pytestmark = pytest.mark.browser

SCRIPTS = Path(__file__).parents[2] / "shared/static/shared/js"
ORIGIN = "https://shop.example"
LEAVE = """async ([cases, shops]) => {
  const { walked } = await import("/kernel/walked.js");
  const { leaving } = await import("/kernel/leave.js");
  return cases.map(([units, records]) => leaving(walked(records, shops[units]), shops[units]));
}"""
FLOOR = """async (cases) => {
  const { areaText, ballpark } = await import("/kernel/ballpark.js");
  return cases.map(([shop, area]) => [areaText(area, shop), ...(ballpark(area, shop) ?? ["", ""])]);
}"""


@pytest.fixture
def device(chromium):
    """Return a function that asks the kernel, off the network."""
    context = chromium.new_context()

    def answer(route, request):
        path = request.url.removeprefix(ORIGIN).lstrip("/")
        kind = "text/javascript" if path.endswith(".js") else "text/html"
        body = (
            (SCRIPTS / path).read_text() if path.endswith(".js") else "<!doctype html>"
        )
        route.fulfill(body=body, headers={"Content-Type": kind})

    context.route("**/*", answer)
    page = context.new_page()
    page.goto(f"{ORIGIN}/")
    yield page.evaluate
    context.close()


def shop_for(units, locale="de", rates_of=None):
    with using(Conventions(unit_system=UnitSystem(units), locale=locale)):
        clearance = CLEARANCE_TICKS[UnitSystem(units)]
        return json.loads(told_words(clearance, USUAL, rates_of))


def test_tells_what_contradicts_is_missing_and_needed_word_for_word(device):
    rooms = json.loads(make_leave.FILE.read_text())
    shops = {units: shop_for(units) for units in ("metric", "imperial")}
    found = device(LEAVE, [[one[:2] for one in rooms], shops])
    for n, ((*_, told), one) in enumerate(zip(rooms, found, strict=True)):
        cautions = [title for title, _ in one["cautions"]]
        assert [one["told"], one["missing"], one["later"], cautions] == told[:4], n
        corners = one["corners"] and [[round(at) for at in c] for c in one["corners"]]
        assert corners == told[4], n
        assert bool(one["sketch"]) == bool(corners), n


def test_says_a_floor_and_its_ballpark_word_for_word(device):
    floors = json.loads(make_ballpark.FILE.read_text())
    asked = [
        [shop_for(units, locale, make_ballpark.shop_of(units, locale, rates)), area]
        for units, locale, area, rates, *_ in floors
    ]
    for (*given, floor, range_, how), found in zip(
        floors, device(FLOOR, asked), strict=True
    ):
        assert found == [floor, range_, how], given


@pytest.mark.django_db
def test_what_a_preset_will_bring_counts_as_there(device):
    survey = make_survey()
    kinds = ("window", "door", "recess")
    for kind in kinds:
        make_opening(wall=wall_of(survey), kind=kind, from_left_mm=None)
    make_covering(survey=survey, surface="floor")
    records = [
        {"lane": "survey:1", "shape": "flat", "height": "2500", "preset": "living"},
        {"lane": "covering:1", "of": "survey:1", "surface": "floor", "finish": "?"},
    ]
    lengths = zip("ABCD", ("5 m", "4 m") * 2, strict=True)
    for name, length in lengths:
        records.append(
            {"lane": f"wall:{name}", "name": name, "length": length, "corner": "right"}
        )
    size = {"of": "wall:A", "width_1": "900", "height_1": "1200"}
    records += [{"lane": f"opening:{kind}", "kind": kind} | size for kind in kinds]
    finish_room(survey, PRESETS["living"], by=survey.measured_by, at=AT)
    fresh = Survey.objects.with_room().with_inside().get(pk=survey.pk)
    (found,) = device(LEAVE, [[["metric", records]], {"metric": shop_for("metric")}])
    sound = [
        [one for one in said if "For the sound" in one]
        for said in (found["later"], leave_told(fresh, has_photo=True).later)
    ]
    assert (
        sound[0]
        == sound[1]
        == ["For the sound of the room: what the recess in A is covered with."]
    )
