"""The quote as the client gets it: read back from the PDF, from a kept snapshot."""

import copy
import io
import itertools
import json
import uuid

import pytest
from bs4 import BeautifulSoup
from pypdf import PdfReader

from quotes.offers.documents import quote_html, quote_pdf
from tests.quotes.offers.write_golden import golden_path


def kept():
    return json.loads(golden_path(1).read_text(encoding="utf-8"))


def changed(**parts):
    """Return the kept snapshot with other values in some of its parts."""
    snapshot = kept()
    for name, values in parts.items():
        if isinstance(values, dict):
            snapshot[name] |= values
        else:
            snapshot[name] = values
    return snapshot


def printed(snapshot):
    return PdfReader(io.BytesIO(quote_pdf(snapshot)))


def words(pdf):
    text = "\n".join(page.extract_text() for page in pdf.pages)
    return " ".join(text.split())


def html(snapshot):
    return BeautifulSoup(quote_html(snapshot), "html.parser")


def said(snapshot):
    return " ".join(html(snapshot).get_text(" ").split())


def elements(node):
    """Every element of a structure tree."""
    node = node.get_object()
    if not isinstance(node, dict):
        return
    yield node
    below = node.get("/K", [])
    for child in below if isinstance(below, list) else [below]:
        yield from elements(child)


@pytest.fixture(scope="module")
def pdf():
    return printed(kept())


@pytest.fixture(scope="module")
def text(pdf):
    return words(pdf)


class TestForm:
    def test_it_is_tagged_with_language_and_title(self, pdf):
        root = pdf.root_object
        assert root["/MarkInfo"]["/Marked"]
        assert root["/Lang"] == "en-GB"
        assert pdf.metadata.title == "Quote Q2026-0001A"
        assert pdf.metadata.author == "Bevel & Batten"
        assert "pdfuaid" in root["/Metadata"].get_data().decode()

    def test_every_small_drawing_says_what_it_shows(self, pdf):
        found = list(elements(pdf.root_object["/StructTreeRoot"]))
        figures = [node for node in found if node.get("/S") == "/Figure"]
        assert [figure["/Alt"] for figure in figures] == [
            "Wall panel on bevelled cleats, 600 × 1200 mm",
            "Hung panel on links and chain, 1200 × 900 mm",
            "Reveal panel with a compressible edge, 873 × 1411 mm",
            "Corner panel on battens, 400 × 1200 mm",
        ]

    def test_its_tables_have_heads(self, pdf):
        found = list(elements(pdf.root_object["/StructTreeRoot"]))
        kinds = [node.get("/S") for node in found]
        assert kinds.count("/H1") == 1
        assert kinds.count("/Table") >= 2
        assert kinds.count("/TH") > 15

    def test_its_parts_can_be_jumped_to(self, pdf):
        (top, below) = pdf.outline
        assert top.title == "Quote Q2026-0001A: 5 sound-absorbing panels"
        assert [mark.title for mark in below] == [
            "What we will do",
            "Café",
            "Price",
            "How to pay",
            "Please know before you say yes",
            "Terms",
            "Your yes",
        ]

    def test_its_fonts_are_inside(self, pdf):
        fonts = [
            font.get_object()
            for page in pdf.pages
            for font in page["/Resources"]["/Font"].values()
        ]
        inside = [font["/DescendantFonts"][0].get_object() for font in fonts]
        assert len(inside) >= 3
        assert all("/FontFile2" in font["/FontDescriptor"] for font in inside)

    @pytest.mark.parametrize(
        ("paper", "size"), [("A4", (595, 842)), ("Letter", (612, 792))]
    )
    def test_it_is_on_the_shops_paper(self, paper, size):
        pages = printed(changed(shop={"paper": paper})).pages
        boxes = {(round(p.mediabox.width), round(p.mediabox.height)) for p in pages}
        assert boxes == {size}


class TestWords:
    @pytest.mark.parametrize(
        "words",
        [
            "Bevel & Batten",
            "Unit 6, Old Tram Shed",
            "+44 1632 960 144 · bench@example.org",
            "Invented demo data: nothing here is real.",
            "Tax number GB 000 0000 00",
            "Sample Café Mara Quill",
            "Date 2 March 2026",
            "Valid until 1 April 2026",
            "guests at one table stop hearing the next",
            "they are not soundproofing",
            "4 Weir Lane, Sample Town ST1 4QZ",
            "1–2 Wall panel on bevelled cleats 600 × 1200 mm",
            "Harbour weave, moss",
            "No fire papers on file yet.",
            "Fire papers: class A (flame spread 0-25, smoke 0-450), HW-2025-114, in the green folder",
            "Prices before VAT",
            "Take down the old boards and dispose of them",
            "Deposit with your yes, 50 %",
            "with the number of this quote",
            "Fire papers are asked for here.",
            "Old paint and ceilings: test before drilling.",
            "Panels overhead.",
            "Panels stay ours until they are paid for.",
            "I accept quote Q2026-0001A for 5 panels",
            "I know that the panels make the room calmer and are not soundproofing.",
            "Place and date",
            "Page 1 of",
        ],
    )
    def test_it_says(self, text, words):
        assert words in text

    def test_sizes_are_nominal_and_finished(self, text):
        assert "Finished 603 × 1203 mm, 100 mm deep" in text
        assert "Opening 873 × 1411 mm" in text
        assert "Made 867 × 1405 mm" in text

    def test_no_colour_for_screens_is_printed(self, text):
        assert "#" not in text

    def test_a_colours_name_is_printed(self):
        snapshot = kept()
        for material in snapshot["materials"].values():
            material["colour"] = "moss green" if material["kind"] == "fabric" else ""
        assert "moss green" in said(snapshot)

    def test_notes_stand_beside_their_panel_once(self):
        snapshot = kept()
        for panel in snapshot["panels"]:
            panel["note"] = "Over the counter" if panel["number"] < 3 else ""
        assert said(snapshot).count("Over the counter") == 1

    def test_a_private_owner_is_not_asked_for_papers(self):
        snapshot = kept()
        snapshot["rooms"][0]["site"] |= {"tenure": "owner", "setting": "private"}
        assert "No fire papers" not in said(snapshot)

    def test_in_feet_and_inches_and_dollars(self):
        shop = {"unit_system": "imperial", "currency": "USD", "locale": "en_US"}
        told = said(changed(shop=shop))
        assert "Finished 23 3/4 × 47 3/8 in" in told
        assert "lb each" in told
        assert f"${float(kept()['price']['gross']):,.2f}" in told

    def test_what_a_client_typed_is_text(self):
        told = quote_html(changed(quote={"scope": "<script>alert(1)</script>"}))
        assert "&lt;script&gt;" in told
        assert "<script" not in told


class TestPrice:
    def test_tax_that_is_inside_is_named_below_the_total(self):
        told = said(changed(price={"tax_inclusive": True}))
        assert "Prices with VAT" in told
        assert told.index("Total with VAT") < told.index("Of which VAT 20 %, on")
        assert "Before VAT" not in told

    def test_a_discount_is_named_with_its_share(self):
        told = said(
            changed(price={"discount": "12.50"}, quote={"discount_percent": "2.5"})
        )
        assert "Sum of the lines" in told
        assert "Discount, 2.5 %, not on travel −€12.50" in told

    def test_no_discount_is_not_named(self, text):
        assert "Discount" not in text
        assert "Sum of the lines" not in text

    def test_without_tax_none_is_named(self):
        told = said(changed(price={"taxes": []}))
        assert "VAT" not in told
        assert "Total €" in told

    def test_without_deposit_none_is_asked(self):
        told = said(changed(price={"deposit": ""}, shop={"how_to_pay": ""}))
        assert "eposit" not in told
        assert "How to pay" not in told

    def test_different_rates_are_named_at_their_lines(self):
        snapshot = kept()
        snapshot["price"]["lines"][-1]["tax_percent"] = "0.000"
        assert "tax 0 %" in said(snapshot)
        assert "tax 20 %" in said(snapshot)

    def test_one_rate_is_not_repeated_at_each_line(self):
        assert "tax 20 %" not in said(kept())

    def test_rooms_are_added_up_when_there_are_several(self):
        snapshot = with_groups(2, rooms=2)
        told = said(snapshot)
        for room in ("Room 0", "Room 1"):
            assert f"{room} together" in told
        assert "together" not in said(kept())


class TestPages:
    @pytest.mark.parametrize("lines", [0, 12, 24])
    def test_a_short_price_stands_whole_under_its_heading(self, lines):
        scope = "\n".join(f"Step {n}." for n in range(lines)) or "All of it."
        pages = [
            p.extract_text() for p in printed(changed(quote={"scope": scope})).pages
        ]
        (page,) = [text for text in pages if "\nPrice\n" in f"\n{text}"]
        assert "Prices before VAT" in page
        assert "Balance when the panels are up" in page

    def test_a_long_price_begins_with_a_line_under_its_heading(self):
        snapshot = changed(quote={"scope": "\n".join(f"Step {n}." for n in range(30))})
        line = snapshot["price"]["lines"][0] | {"room": "", "text": "More"}
        more = [line | {"key": f"more-{n}"} for n in range(40)]
        snapshot["price"]["lines"] += more
        pages = [page.extract_text() for page in printed(snapshot).pages]
        (page,) = [text for text in pages if "\nPrice\n" in f"\n{text}"]
        assert "Balance" not in page
        assert "404.60" in page[page.index("Prices before") :]


class TestEmpty:
    def test_free_lines_alone_make_no_promise_about_panels(self):
        snapshot = changed(groups={}, panels=[], cautions=[])
        snapshot["groups"] = {}
        snapshot["quote"]["scope"] = ""
        lines = snapshot["price"]["lines"]
        snapshot["price"]["lines"] = [line for line in lines if not line["room"]]
        told = said(snapshot)
        assert "The work listed below." in told
        assert "soundproofing" not in told
        assert "Please know" not in told

    def test_without_terms_scope_or_numbers_nothing_empty_is_left(self):
        page = html(
            changed(
                quote={"terms": "", "scope": ""},
                shop={"tax_number": "", "phone": "", "email": "", "web": ""},
            )
        )
        assert [h.get_text() for h in page.find_all("h2") if "Terms" in h] == []
        assert all(p.get_text(strip=True) for p in page.find_all(["p", "h2", "dd"]))


def with_groups(count, *, rooms=1, name="Wall panel"):
    """Return a snapshot of so many groups of one panel, shared among some rooms."""
    snapshot = kept()
    room, group, line = (
        snapshot["rooms"][0],
        next(iter(snapshot["groups"].values())),
        snapshot["price"]["lines"][0],
    )
    snapshot["rooms"] = [
        room | {"id": str(uuid.UUID(int=n)), "name": f"Room {n}"} for n in range(rooms)
    ]
    keys = [str(uuid.UUID(int=1000 - n)) for n in range(count)]
    homes = itertools.cycle(each["id"] for each in snapshot["rooms"])
    snapshot["groups"] = {
        key: copy.deepcopy(group) | {"room": home, "count": 1}
        for key, home in zip(keys, homes, strict=False)
    }
    for build in snapshot["builds"].values():
        build["name"] = name
    snapshot["panels"] = [
        {"planned_panel": key, "number": number, "group": key, "note": ""}
        for number, key in enumerate(keys, start=1)
    ]
    snapshot["price"]["lines"] = [
        line | {"key": key, "room": each["room"], "text": name, "quantity": "1"}
        for key, each in snapshot["groups"].items()
    ]
    return snapshot


@pytest.fixture(scope="module")
def long():
    return printed(with_groups(40, name="Quiet " + "W" * 90))


def test_a_draft_is_marked_and_not_to_be_signed():
    told = said(changed(quote={"letter": " draft"}))
    assert "A draft, not an offer" in told
    assert "Your yes" not in told
    assert "A draft, not an offer" not in said(kept())


class TestLong:
    def test_forty_groups_run_over_pages_with_their_heads(self, long):
        assert len(long.pages) >= 4
        second = long.pages[1].extract_text()
        assert all(head in second for head in ("No.", "Front", "Panel", "Fabric"))

    def test_rows_follow_the_numbers_of_their_panels(self):
        page = html(with_groups(12))
        codes = [cell.get_text() for cell in page.select(".schedule tbody th")]
        assert codes == [str(number) for number in range(1, 13)]

    def test_a_name_too_long_for_its_cell_is_broken(self, long):
        text = "\n".join(page.extract_text() for page in long.pages)
        assert "W" * 89 not in text
        assert text.count("W") >= 2 * 40 * 90

    def test_the_place_to_sign_stays_in_one_piece(self, long):
        whole = [
            page
            for page in long.pages
            if "Your yes" in (words := page.extract_text()) and "Signature" in words
        ]
        assert len(whole) == 1
