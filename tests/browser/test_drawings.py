"""Drawings on a phone can be read, and in a dim room they don't glare; real sheets."""

from pathlib import Path

import pytest

from tests.browser.conftest import PHONE, TABLET

pytestmark = pytest.mark.browser

STATIC = Path(__file__).parents[2] / "shared/static/shared"
ORIGIN = "https://shop.example"
SHEETS = "".join(
    f'<link rel="stylesheet" href="/css/{name}.css">'
    for name in ("tokens", "base", "components")
)
SVG = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 170 145">
<rect width="170" height="145" fill="#ffffff"/><text x="9" y="9" font-size="3.2">12'</text></svg>"""
PAGE = f"""<!doctype html><html lang="en"><meta name="viewport" content="width=device-width">
<title>Drawings</title>{SHEETS}<main class="main"><figure class="drawing">{SVG}
<figcaption class="drawing__caption">Plan</figcaption></figure>
<span class="thumb">{SVG}</span></main></html>"""


@pytest.fixture
def open_page(chromium):
    """Return a function that opens a page with a drawing and a thumb."""
    contexts = []

    def answer(route, request):
        path = request.url.removeprefix(ORIGIN).lstrip("/")
        sheet = (STATIC / path).read_bytes() if path.endswith(".css") else PAGE
        kind = "text/css" if path.endswith(".css") else "text/html"
        route.fulfill(body=sheet, content_type=kind)

    def opened(viewport, *, dim=False):
        light = "dark" if dim else "light"
        context = chromium.new_context(viewport=viewport, color_scheme=light)
        contexts.append(context)
        context.route("**/*", answer)
        page = context.new_page()
        page.goto(ORIGIN)
        return page

    yield opened
    for context in contexts:
        context.close()


def box(page, selector):
    return page.locator(selector).bounding_box()


@pytest.mark.parametrize("viewport", [PHONE, TABLET], ids=["phone", "tablet"])
def test_figures_are_legible_and_the_page_stays_in_its_width(open_page, viewport):
    page = open_page(viewport)
    assert box(page, ".drawing text")["height"] >= 11
    wide = page.evaluate("document.documentElement.scrollWidth")
    assert wide <= viewport["width"]


def test_a_drawing_moves_sideways_under_its_caption_on_a_phone(open_page):
    page = open_page(PHONE)
    before = box(page, ".drawing__caption")["x"]
    page.locator(".drawing").evaluate("(figure) => figure.scrollTo(200, 0)")
    assert box(page, ".drawing > svg")["x"] < -100
    assert box(page, ".drawing__caption")["x"] == before


def test_a_thumbs_sheet_is_dimmed_in_a_dim_room(open_page):
    fill = "(rect) => getComputedStyle(rect).fill"
    sheets = [
        open_page(TABLET, dim=dim).locator(".thumb rect").evaluate(fill)
        for dim in (False, True)
    ]
    assert sheets == ["rgb(255, 255, 255)", "rgb(169, 178, 178)"]
