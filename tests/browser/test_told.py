"""On the walk, what the readings come to is said as they are typed, in the server's words."""

from pathlib import Path

import pytest
from django.template.loader import render_to_string
from playwright.sync_api import expect

from shared.conventions import Conventions, using
from shared.length import TICKS_PER_MM, UnitSystem
from shop.surveys.engine import USUAL
from shop.surveys.models import Opening, Survey, Wall
from shop.surveys.reports.walk.fields import part_of
from shop.surveys.reports.walk.openings import OPENING
from shop.surveys.reports.walk.told import told_words
from shop.surveys.reports.walk.walls import WALL
from shop.surveys.reports.walk.who import SURVEY

pytestmark = pytest.mark.browser

SCRIPTS = Path(__file__).parents[2] / "shared/static/shared/js"
ORIGIN = "https://shop.example"
POLICY = "default-src 'none'; script-src 'self'"
START = """<!doctype html><html lang="en"><meta charset="utf-8"><title>Walk</title><body data-walks>"""
FOLDER = "shop/surveys/walk"


def rendered(part):
    fields = (
        render_to_string(f"{FOLDER}/_field.html", {"field": field})
        for field in part.fields.values()
    )
    return "".join(fields)


def unread(kind, row, title, record):
    row.pk = record
    return part_of(kind, row, title, {})


def walk_page():
    """Lay out four walls and a window as the walk does."""
    walls = [unread(WALL, Wall(name=name), name, name) for name in "ABCD"]
    opening = unread(OPENING, Opening(name="bay"), "bay", "window")
    survey = unread(SURVEY, Survey(), "ceiling", "survey")
    with using(Conventions(unit_system=UnitSystem.METRIC)):
        told = render_to_string(
            f"{FOLDER}/_plan_told.html",
            {"told": told_words(3 * TICKS_PER_MM, USUAL, None)},
        )
        scripts = render_to_string(f"{FOLDER}/_scripts.html")
        beside = render_to_string(f"{FOLDER}/_opening_told.html", {"part": opening})
        body = "".join(map(rendered, [survey, *walls]))
        inside = f'<div data-offline-parts="opening" data-offline-of="wall:A">{rendered(opening)}</div>'
    return START + told + body + inside + beside + scripts


@pytest.fixture
def page(chromium, troubles):
    """A walk round four walls, off the network, under the policy of real pages."""
    context = chromium.new_context()
    text = walk_page()

    def answer(route, request):
        path = request.url.partition("/js/")[2]
        kind = "text/javascript" if path.endswith(".js") else "text/html"
        body = (SCRIPTS / path).read_text() if path.endswith(".js") else text
        route.fulfill(
            body=body, headers={"Content-Type": kind, "Content-Security-Policy": POLICY}
        )

    context.route("**/*", answer)
    opened = context.new_page()
    troubles.watch(opened)
    opened.goto(f"{ORIGIN}/walk")
    # what tells it is fetched once the page is usable
    expect(opened.locator("[data-plan-told]")).not_to_be_empty()
    yield opened
    context.close()


def box(page, record, field):
    return page.locator(f"[data-offline-lane$=':{record}'][data-offline-field={field}]")


def type_lengths(page, **lengths):
    for wall, length in lengths.items():
        box(page, wall, "length").fill(length)


def plan(page):
    return page.locator("[data-plan-told]").text_content()


def test_walls_are_told_as_they_are_typed(page):
    assert plan(page) == "Not read yet: walls A, B, C and D."
    type_lengths(page, A="4003", B="3004", C="4 m", D="3000")
    assert plan(page) == "The walls close to 5 mm, 0.04% of the round."
    type_lengths(page, A="4025", B="3000")
    assert plan(page) == (
        "The walls don’t close: the walk ends 25 mm from where it began, 0.18% of the"
        " round. Read walls A and C again first, the longest before the others."
    )
    type_lengths(page, A="nonsense", C="")
    assert plan(page) == "Not read yet: walls A and C."


def test_corners_count_however_they_are_known(page):
    type_lengths(page, A="4000", B="3000", C="4000", D="3000")
    for name in "AB":
        box(page, name, "corner").select_option("diagonal")
    assert plan(page) == "Not read yet: walls A and B."
    box(page, "A", "diagonal").fill("5 m")
    box(page, "B", "corner").select_option("angle")
    box(page, "B", "angle").fill("90,0")
    assert plan(page) == "The walls close to 0 mm, 0.00% of the round."
    box(page, "A", "diagonal").fill("8 m")
    assert plan(page).startswith("The diagonal over the corner after wall A can’t be")


def test_a_wall_taken_out_and_one_renamed(page):
    type_lengths(page, A="4000", C="4000")
    box(page, "D", "name").fill("north")
    assert plan(page) == "Not read yet: walls B and north."
    type_lengths(page, B="3000")
    box(page, "D", "removed").check()
    assert plan(page).startswith("The corners don’t make one round: they turn by 270°")


def test_an_opening_is_told_as_it_is_read(page):
    told = page.locator("[data-opening-told]")
    assert told.text_content() == ""
    box(page, "window", "width_1").fill("900")
    box(page, "window", "height_1").fill("1200")
    assert told.text_content() == "At its smallest 900 mm wide and 1200 mm high."
    box(page, "window", "gets_panel").check()
    box(page, "window", "width_3").fill("905")
    box(page, "window", "diagonal_1").fill("1490")
    box(page, "window", "diagonal_2").fill("1510")
    assert told.text_content() == (
        "At its smallest 900 mm wide and 1200 mm high. The widths of bay differ by 5 mm."
        " Read them again, or expect a gap. The diagonals of bay differ by 20 mm: it is"
        " out of square. It leans by 16.7 mm (0.8°) over its height. With its fabric, a"
        " panel of 894 mm by 1194 mm does not go in while it leans."
    )
