"""The device tells before leaving what the server tells: same vectors, in Chromium."""

import json
from decimal import Decimal
from pathlib import Path

import pytest

from shared.conventions import Conventions, using
from shared.length import UnitSystem
from shop.surveys.engine import CLEARANCE_TICKS, USUAL
from shop.surveys.reports.walk.told import told_words
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


def test_rates_are_only_there_for_those_who_may_see_them():
    shop = make_ballpark.shop_of("metric", "en_GB", ["35", "60"])
    assert shop_for("metric", rates_of=shop)["rates"] == ["35", "60"]
    assert not {"rates", "currency"} & shop_for("metric").keys()
    assert Decimal(shop_for("metric", rates_of=shop)["rates"][0]) == 35
