"""The device reads and prints lengths as the server does: same vectors, in Chromium."""

import json
import random
from pathlib import Path

import pytest

from shared.length import LengthError, UnitSystem, parse, show
from tests.vectors.make_length import FILE

pytestmark = pytest.mark.browser

SCRIPTS = Path(__file__).parents[2] / "shared/static/shared/js"
VECTORS = json.loads(FILE.read_text())
ORIGIN = "https://shop.example"
# What the real pages are served with, so that the echo is known to work under it.
POLICY = "default-src 'none'; script-src 'self'"
PAGE = """<!doctype html><title>Lengths</title>
<script type="module" src="/length-echo.js"></script>
<label>Width <input id="w" data-length="{units}" data-length-fraction="16"></label>
<label>Height <input id="h" data-length="{units}"></label>
<output id="h_echo" data-length-echo="h"></output>"""
CALL = """async ([name, cases]) => {
  const kernel = await import("/kernel/length.js");
  return cases.map(([first, options]) => {
    try { return kernel[name](first, options); }
    catch (error) { return [error.kind, error.message]; }
  });
}"""


@pytest.fixture
def open_page(chromium):
    """Return a function that opens a page with length boxes, off the network."""
    context = chromium.new_context()

    def answer(route, request):
        path = request.url.removeprefix(ORIGIN).lstrip("/")
        kind = "text/javascript" if path.endswith(".js") else "text/html"
        text = (
            (SCRIPTS / path).read_text()
            if path.endswith(".js")
            else PAGE.replace("{units}", path)
        )
        route.fulfill(
            body=text, headers={"Content-Type": kind, "Content-Security-Policy": POLICY}
        )

    context.route("**/*", answer)

    def opened(units="metric"):
        page = context.new_page()
        page.goto(f"{ORIGIN}/{units}")
        return page

    yield opened
    context.close()


def called(page, name, cases):
    return page.evaluate(CALL, [name, cases])


def test_reads_the_shared_vectors(open_page):
    cases = [[text, {"units": units}] for text, units, _ in VECTORS["readings"]]
    expected = [ticks for _, _, ticks in VECTORS["readings"]]
    assert called(open_page(), "parse", cases) == expected


def refusal(text, units):
    with pytest.raises(LengthError) as refused:
        parse(text, units=UnitSystem(units))
    return refused.value.message


def test_refuses_the_shared_vectors_in_the_same_words(open_page):
    cases = [[text, {"units": units}] for text, units, _ in VECTORS["refusals"]]
    expected = [
        [kind, refusal(text, units)] for text, units, kind in VECTORS["refusals"]
    ]
    assert called(open_page(), "parse", cases) == expected


def test_prints_the_shared_vectors(open_page):
    page = open_page()
    cases = [
        [ticks, {"units": units, "fraction": step, "unitMark": mark, "feet": feet}]
        for ticks, units, step, mark, feet, _ in VECTORS["shown"]
    ]
    assert called(page, "show", cases) == [case[-1] for case in VECTORS["shown"]]
    cases = [
        [ticks, {"units": units, "fraction": step}]
        for ticks, units, step, _ in VECTORS["exactness"]
    ]
    assert called(page, "isExact", cases) == [case[-1] for case in VECTORS["exactness"]]


PIECES = [
    *(
        "12",
        "3",
        "5/8",
        "0",
        "750",
        "007",
        "3.5",
        "0,125",
        "1,250",
        "3.750",
        ".5",
        "64",
    ),
    *("'", '"', "''", "ft", "in", "in.", "mm", "cm", "m", "feet", "M", "x", "e"),
    *(
        "-",
        " ",
        " ",
        "½",
        "⅝",
        "′",
        "″",
        "⁄",
        "\u00a0",
        "–",
        "+",
        "1/3",
        "9/8",
        "/",
        ",",
    ),
]


def outcome(text, units):
    try:
        return parse(text, units=units)
    except LengthError as refused:
        return [refused.kind, refused.message]


def test_agrees_on_texts_that_nobody_listed(open_page):
    rng = random.Random(20)  # the same texts each time
    texts = [
        (
            "".join(rng.choices(PIECES, k=rng.randint(1, 8))),
            rng.choice(list(UnitSystem)),
        )
        for _ in range(20_000)
    ]
    expected = [outcome(text, units) for text, units in texts]
    assert sum(isinstance(one, int) for one in expected) > 1000
    cases = [[text, {"units": units}] for text, units in texts]
    assert called(open_page(), "parse", cases) == expected


def test_agrees_on_printing_any_tick(open_page):
    rng = random.Random(21)
    ticks = [rng.randrange(2**31) >> rng.randrange(24) for _ in range(5000)]
    for units in UnitSystem:
        cases = [[one, {"units": units}] for one in ticks]
        expected = [show(one, units=units) for one in ticks]
        assert called(open_page(), "show", cases) == expected


def test_says_how_a_length_was_understood_while_it_is_typed(open_page):
    page = open_page("imperial")
    page.locator("#w").press_sequentially("12' 3 5/8")
    echo = page.locator("[data-length-echo=w]")
    assert echo.text_content() == "12' 3 5/8\" = about 3.750 m"
    assert echo.get_attribute("for") == "w"


def test_uses_the_place_that_the_page_has_for_the_echo(open_page):
    page = open_page("metric")
    page.locator("#h").fill("3.75 m")
    assert page.locator("#h_echo").text_content() == "3750 mm = about 12' 3 5/8\""


def test_says_what_would_work_only_when_the_box_is_left(open_page):
    page = open_page("metric")
    page.locator("#h").fill("3.750")
    assert page.locator("#h_echo").text_content() == ""
    page.locator("#w").focus()
    assert page.locator("#h_echo").text_content() == refusal("3.750", "metric")
    assert page.locator("#h_echo").get_attribute("data-state") == "bad"
    page.locator("#h").fill("")
    assert page.locator("#h_echo").text_content() == ""
