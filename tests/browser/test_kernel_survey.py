"""The device tells of walls and openings what the server tells: same vectors, in Chromium."""

import json
from pathlib import Path

import pytest

from shop.surveys.engine import OPENING_WORDS, PLAN_WORDS
from tests.vectors import make_opening, make_plan

pytestmark = pytest.mark.browser

SCRIPTS = Path(__file__).parents[2] / "shared/static/shared/js"
ORIGIN = "https://shop.example"
CALL = """async ([name, cases, words]) => {
  const { show } = await import("/kernel/length.js");
  const kernel = await import("/kernel/survey.js");
  return cases.map((one) => kernel[name](one, words, (ticks) => show(ticks, { units: "metric" })));
}"""


@pytest.fixture
def told(chromium):
    """Return a function that calls the kernel, off the network."""
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
    yield lambda *what: page.evaluate(CALL, list(what))
    context.close()


def known(**values):
    """Leave out what is not read, which is undefined to the device."""
    return {key: value for key, value in values.items() if value is not None}


def wall(name, length, corner, inside, diagonal):
    return known(
        name=name, length=length, corner=corner, inside=inside, diagonal=diagonal
    )


def test_tells_whether_walls_close_to_the_tick_and_word(told):
    plans = json.loads(make_plan.FILE.read_text())
    rooms = [[wall(*one) for one in walls] for _, walls, *_ in plans]
    found = told("planTold", rooms, PLAN_WORDS)
    for (name, walls, closing, again, said), one in zip(plans, found, strict=True):
        assert one["sentences"] == said, name
        assert (one.get("closing"), one.get("again", [])) == (closing, again), name
        whole = None if closing is None else sum(length for _, length, *_ in walls)
        assert one.get("perimeter") == whole, name


def test_tells_of_openings_to_the_tick_and_word(told):
    openings = json.loads(make_opening.FILE.read_text())
    read = [
        known(
            widths=widths,
            heights=heights,
            right=right,
            left=left,
            clearance=clearance,
            getsPanel=panel,
            name="bay",
        )
        for _, (widths, heights, right, left, clearance, panel), *_ in openings
    ]
    found = told("openingTold", read, OPENING_WORDS)
    for (name, _, smallest, spreads, lean, fit, said), one in zip(
        openings, found, strict=True
    ):
        assert one["sentences"] == said, name
        assert [one["width"], one["height"]] == smallest, name
        assert (one["spreads"], one["lean"], one["fit"]) == (spreads, lean, fit), name
