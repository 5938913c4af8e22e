"""The pattern page shows every part of the look, and the look keeps its own rules."""

import re
from pathlib import Path

import pytest
from django.conf import settings
from django.urls import reverse

from shared.menu import _entries as menu_entries
from tests.pages import soup

ROOT = Path(settings.BASE_DIR)
CSS = ROOT / "shared/static/shared/css"
TEMPLATES = ROOT / "templates"
SPRITE = ROOT / "shared/static/shared/icons/sprite.svg"

# Blocks that stand on pages of their own, or only while something happens.
SHOWN_ELSEWHERE = {
    "alone": "the sign-in and the refusals",
    "invented": "every page of a shop of demo data",
    "htmx-request": "htmx sets it while it waits",
    "paper-only": "nothing to see on a screen",
}


def stylesheet(name):
    return re.sub(r"/\*.*?\*/", "", (CSS / name).read_text(), flags=re.S)


def selectors(name):
    """Each selector of a stylesheet; at-rules and what stands inside brackets left out."""
    lists = re.findall(r"([^{};]+)\{", stylesheet(name))
    return [s.strip() for s in lists if not s.strip().startswith(("@", "from", "to"))]


def block(name):
    return re.split("__|--", name)[0]


@pytest.fixture
def page(client_as, maker, shop):
    return soup(client_as(maker).get(reverse("shared:patterns")))


def test_nobody_from_outside_sees_it(client, shop):
    response = client.get(reverse("shared:patterns"))
    assert response.status_code == 302
    assert reverse("shop:sign-in") in response["Location"]


def test_it_is_only_read(client_as, maker, shop):
    assert client_as(maker).post(reverse("shared:patterns")).status_code == 405


def test_every_component_is_on_it(page):
    text = stylesheet("components.css")
    styled = {block(name) for name in re.findall(r"\.([a-z][a-z_-]+)", text)}
    shown = {block(name) for tag in page.select("[class]") for name in tag["class"]}
    files = {"svg", "woff"}
    assert styled - shown - set(SHOWN_ELSEWHERE) - files == set()
    assert set(SHOWN_ELSEWHERE) - styled == set()


def test_every_partial_is_on_it():
    sources = [TEMPLATES / "shared/patterns.html", TEMPLATES / "base.html"]
    sources += sorted((TEMPLATES / "shared").rglob("_*.html"))
    included = set(
        re.findall(
            r'include "(shared/_\w+\.html)"',
            "".join(path.read_text() for path in sources),
        )
    )
    partials = {
        f"shared/{path.name}" for path in (TEMPLATES / "shared").glob("_*.html")
    }
    # Goes with the answer to htmx, beside a fragment.
    assert partials - included == {"shared/_messages_swap.html"}


def test_no_id_stands_twice(page):
    ids = [tag["id"] for tag in page.select("[id]")]
    assert sorted(ids) == sorted(set(ids))


def test_every_label_and_description_leads_somewhere(page):
    ids = {tag["id"] for tag in page.select("[id]")}
    named = {label["for"] for label in page.select("label[for]")}
    described = " ".join(
        tag["aria-describedby"] for tag in page.select("[aria-describedby]")
    )
    assert named
    assert described
    assert named | set(described.split()) <= ids


def test_a_refused_field_says_so_beside_it_and_keeps_what_was_typed(page):
    width = page.select_one("#id_width")
    assert width["aria-invalid"] == "true"
    assert width["value"] == "about two arms"
    sentence = page.select_one("#id_width_error").get_text()
    assert "does not read as a length" in sentence
    assert "id_width_error" in width["aria-describedby"].split()


def icons_asked_for():
    """Every icon that a template, a sample or the menu names."""
    for path in TEMPLATES.rglob("*.html"):
        yield from re.findall(r'{% icon "([\w-]+)"', path.read_text())
        yield from re.findall(r' icon="([\w-]+)"', path.read_text())
    yield from (entry.icon for entry in menu_entries.values())


def test_every_icon_is_drawn(page):
    drawn = set(re.findall(r'<symbol id="([\w-]+)"', SPRITE.read_text()))
    on_page = {use["href"].split("#")[1] for use in page.select("use")}
    assert on_page
    assert (set(icons_asked_for()) | on_page) - drawn == set()


def test_no_selector_of_a_component_names_a_tag_with_a_class():
    qualified = re.compile(r"(?<![\w.:#-])[a-z][a-z0-9]*\.[a-z]")
    assert [s for s in selectors("components.css") if qualified.search(s)] == []
    assert qualified.search("summary.workings__line")


@pytest.mark.parametrize("name", ["base.css", "components.css", "print.css"])
def test_every_property_that_is_used_is_a_token(name):
    everywhere = "".join(stylesheet(path.name) for path in CSS.glob("*.css"))
    defined = set(re.findall(r"(--[\w-]+):", everywhere))
    assert set(re.findall(r"var\((--[\w-]+)", stylesheet(name))) <= defined


def tokens():
    """Each colour token as its light and its dark value."""
    pairs = re.findall(
        r"--([\w-]+): light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\)",
        stylesheet("tokens.css"),
    )
    return {name: (light, dark) for name, light, dark in pairs}


def luminance(colour):
    """Relative luminance, WCAG 2.2."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    r, g, b = (
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels
    )
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one, other):
    """Contrast ratio, WCAG 2.2."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


TEXT = [
    *((ink, on) for ink in ("ink", "ink-soft", "chalk", "red", "loden", "brass")
      for on in ("ground", "sheet", "sheet-sunk")),
    *((ink, f"{ink}-wash") for ink in ("chalk", "red", "loden", "brass")),
    *(("ink", f"{wash}-wash") for wash in ("chalk", "red", "loden", "brass")),
    ("on-chalk", "chalk"), ("on-chalk", "chalk-deep"), ("chalk-deep", "sheet"),
    ("felt-ink", "felt"), ("felt-ink", "felt-lift"), ("felt-ink-soft", "felt"),
    ("birch-ink", "birch"), ("birch-ink", "ply-pale"),
]  # fmt: skip
EDGES = [
    *(("line-strong", on) for on in ("ground", "sheet", "sheet-sunk", "chalk-wash")),
    ("chalk", "sheet"), ("chalk", "ground"), ("birch", "felt"), ("chalk", "chalk-wash"),
]  # fmt: skip


@pytest.mark.parametrize("light", [0, 1], ids=["light", "dark"])
@pytest.mark.parametrize(
    ("pairs", "least"), [(TEXT, 4.5), (EDGES, 3)], ids=["text", "edges"]
)
def test_colours_stand_out_enough(pairs, least, light):
    """WCAG 2.2, 1.4.3 and 1.4.11."""
    colour = tokens()
    ratios = {
        pair: contrast(colour[pair[0]][light], colour[pair[1]][light]) for pair in pairs
    }
    assert {pair: ratio for pair, ratio in ratios.items() if ratio < least} == {}


def test_contrast_is_reckoned_as_the_standard_does():
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)
