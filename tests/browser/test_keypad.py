"""The shop's own keys for lengths, and a laser's Enter: real scripts and sheets, off the network."""

from pathlib import Path

import pytest
from django.template.loader import render_to_string

from shared.conventions import Conventions, using
from shared.length import UnitSystem
from tests.browser.conftest import PHONE, TABLET

pytestmark = pytest.mark.browser

STATIC = Path(__file__).parents[2] / "shared/static/shared"
ORIGIN = "https://shop.example"
POLICY = "default-src 'none'; script-src 'self'; style-src 'self'; form-action 'self'"
TYPES = {".js": "text/javascript", ".css": "text/css", ".html": "text/html"}
FIELD = """<div class="field"><label for="{0}">{0}</label>
<input class="input input--length" id="{0}" inputmode="{keys}" data-length="{units}"
  data-length-fraction="16"><output class="field__echo" data-length-echo="{0}"></output></div>"""
PAGE = """<!doctype html><html lang="en"><meta name="viewport" content="width=device-width">
<title>Lengths</title>{sheets}<script type="module" src="/js/keypad.js"></script>
<body><main><div data-walks>{a}{b}<div class="field"><label for="t">Angle</label>
<input class="input" id="t" data-plan-turn></div><input id="word"></div>
<form action="/sent.html">{c}<input id="after" name="after"><button>Store</button></form></main>
{pad}</body></html>"""
SHEETS = ("tokens", "base", "components")


def page_in(units):
    keys = {"metric": "decimal", "imperial": "text"}[units]
    boxes = {name: FIELD.format(name, units=units, keys=keys) for name in "abc"}
    links = "".join(f'<link rel="stylesheet" href="/css/{n}.css">' for n in SHEETS)
    with using(Conventions(unit_system=UnitSystem(units))):
        return PAGE.format(
            sheets=links, pad=render_to_string("shared/_keypad.html"), **boxes
        )


@pytest.fixture
def open_page(chromium, troubles):
    """Return a function that opens a page with length boxes on a device of a kind."""
    contexts = []

    def answer(route, request):
        path = request.url.removeprefix(ORIGIN).split("?")[0].lstrip("/")
        found = STATIC / path
        body = found.read_bytes() if found.is_file() else page_in(Path(path).stem)
        kind = TYPES.get(found.suffix, "application/octet-stream")
        route.fulfill(
            body=body, headers={"Content-Type": kind, "Content-Security-Policy": POLICY}
        )

    def opened(units="imperial", *, touch=True, viewport=PHONE):
        context = chromium.new_context(
            viewport=viewport, has_touch=touch, is_mobile=touch
        )
        contexts.append(context)
        context.route(
            "**/*",
            lambda route, request: (
                route.fulfill(body="<!doctype html>", content_type="text/html")
                if "sent.html" in request.url
                else answer(route, request)
            ),
        )
        page = context.new_page()
        page.goto(f"{ORIGIN}/{units}.html")
        return page

    yield opened
    for context in contexts:
        context.close()


def press(page, *keys):
    for key in keys:
        page.locator(f".field .keypad__keys [data-key={key!r}]").tap()


def focused(page):
    return page.evaluate("document.activeElement.id")


def echo(page, box):
    return page.locator(f"[data-length-echo={box}]").text_content()


def test_feet_inches_and_fractions_by_keys(open_page):
    page = open_page()
    page.locator("#a").tap()
    press(page, "1", "2", "'", "3", " 5/8")
    page.locator(".field .keypad__keys [data-key='\"']").tap()
    assert page.locator("#a").input_value() == "12'3 5/8\""
    assert echo(page, "a") == "12' 3 5/8\" = about 3.750 m"
    assert focused(page) == "a"


def test_another_fraction_takes_the_place_of_the_first(open_page):
    page = open_page()
    page.locator("#a").tap()
    press(page, "9", " 5/8", " 11/16")
    assert page.locator("#a").input_value() == "9 11/16"
    press(page, "back")
    assert page.locator("#a").input_value() == "9"
    press(page, "back", " 1/2")
    assert page.locator("#a").input_value() == "1/2"


def test_metres_by_keys(open_page):
    page = open_page("metric")
    page.locator("#a").tap()
    press(page, "3", ".", "7", "5", " m")
    assert page.locator("#a").input_value() == "3.75 m"
    assert echo(page, "a") == "3750 mm = about 12' 3 5/8\""
    assert page.locator(".field [data-key=' 1/2']").count() == 0


def test_the_devices_own_keyboard_stays_away_while_ours_is_there(open_page):
    page = open_page("metric")
    page.locator("#a").tap()
    box, keys = page.locator("#a"), page.locator(".field .keypad__keys")
    assert (box.get_attribute("inputmode"), keys.is_visible()) == ("none", True)
    page.get_by_role("button", name="Keypad").tap()
    assert (box.get_attribute("inputmode"), keys.is_visible()) == ("decimal", False)
    assert focused(page) == "a"
    page.reload()
    page.locator("#c").tap()
    assert page.locator("#c").get_attribute("inputmode") == "decimal"
    assert not page.locator(".field .keypad__keys").is_visible()
    page.get_by_role("button", name="Keypad").tap()
    page.reload()
    page.locator("#c").tap()
    assert page.locator(".field .keypad__keys").is_visible()


def test_with_a_mouse_it_waits_to_be_asked_for(open_page):
    page = open_page(touch=False, viewport=TABLET)
    page.locator("#a").click()
    keys = page.locator(".field .keypad__keys")
    assert not keys.is_visible()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert keys.is_visible()
    page.keyboard.type("147")
    assert page.locator("#a").input_value() == "147"
    assert keys.is_visible()


def test_works_by_keyboard(open_page):
    page = open_page()
    page.locator("#a").focus()
    key = page.get_by_role("group", name="Keys for a length").get_by_role("button")
    key.filter(has_text="7").last.focus()
    page.keyboard.press("Enter")
    assert page.locator("#a").input_value() == "7"
    assert page.locator(".field .keypad__keys").is_visible()


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_every_key_is_as_large_as_a_thumb_and_the_box_stays_clear(open_page, units):
    page = open_page(units)
    page.locator("#c").tap()
    sizes = page.locator(".field .keypad button").evaluate_all(
        "(all) => all.map((one) => one.getBoundingClientRect())"
        ".map(({ width, height, right }) => [width, height, right])"
    )
    assert len(sizes) > 15
    assert min(min(width, height) for width, height, _ in sizes) >= 44
    assert max(right for *_, right in sizes) <= PHONE["width"]
    foot = "(one) => one.getBoundingClientRect().bottom"
    top = "(one) => one.getBoundingClientRect().top"
    box, keys = page.locator("#c"), page.locator(".field .keypad__keys")
    assert box.evaluate(foot) <= keys.evaluate(top)


def test_leaving_a_box_that_keys_filled_says_that_it_changed(open_page):
    page = open_page()
    page.evaluate(
        "document.addEventListener('change', ({ target }) => (window.changed = target.id))"
    )
    page.locator("#a").tap()
    press(page, "1", "next")
    assert page.evaluate("window.changed") == "a"
    assert focused(page) == "b"
    press(page, "2", "next")
    assert focused(page) == "t"


def test_next_in_a_form_goes_to_whatever_comes_next(open_page):
    page = open_page()
    page.locator("#c").tap()
    press(page, "4", "next")
    assert focused(page) == "after"


def test_a_lasers_reading_lands_and_moves_on(open_page):
    page = open_page("metric", touch=False)
    page.locator("#a").focus()
    page.keyboard.type("3750")
    page.keyboard.press("Enter")
    page.keyboard.type("2.4 m")
    page.keyboard.press("Enter")
    boxes = [page.locator(f"#{name}").input_value() for name in "ab"]
    assert (boxes, focused(page)) == (["3750", "2.4 m"], "t")
    page.keyboard.press("Enter")
    assert focused(page) == ""  # the walk's last: nothing to go to, and it is left


def test_a_lasers_enter_goes_past_what_is_read_already(open_page):
    page = open_page("metric", touch=False)
    page.locator("#b").fill("2400")
    page.locator("#a").focus()
    page.keyboard.type("3750")
    page.keyboard.press("Enter")
    assert focused(page) == "t"


def test_on_a_walk_a_new_reading_takes_the_old_ones_place(open_page):
    page = open_page("metric")
    for name, expected in (("a", "5"), ("c", "905")):  # c is in an ordinary form
        page.locator(f"#{name}").fill("90")
        page.locator("#after").tap()
        page.locator(f"#{name}").tap()
        press(page, "5")
        assert page.locator(f"#{name}").input_value() == expected


def test_a_second_click_puts_the_caret_into_a_reading(open_page):
    page = open_page("metric", touch=False, viewport=TABLET)
    page.locator("#a").fill("5")
    page.locator("#after").click()
    for x in (20, 150):  # apart, or it is a double click, which chooses the word
        page.locator("#a").click(position={"x": x, "y": 20})
    page.keyboard.type("6")
    assert page.locator("#a").input_value() == "56"


def test_enter_stays_with_what_does_not_read_and_the_next_reading_replaces_it(
    open_page,
):
    page = open_page("metric", touch=False)
    page.locator("#a").focus()
    page.keyboard.type("3.750")
    page.keyboard.press("Enter")
    assert focused(page) == "a"
    assert echo(page, "a").startswith("This can be read in two ways")
    page.keyboard.type("3.75 m")
    page.keyboard.press("Enter")
    assert (page.locator("#a").input_value(), focused(page)) == ("3.75 m", "b")


def test_enter_in_an_ordinary_form_sends_it(open_page):
    page = open_page("metric", touch=False)
    page.locator("#c").focus()
    page.keyboard.type("3750")
    page.keyboard.press("Enter")
    page.wait_for_url("**/sent.html*")
