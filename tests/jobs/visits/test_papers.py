"""The install sheet and the van list, read back from their PDFs."""

import io
import re

import pytest
from django.db import transaction
from django.test import Client
from django.urls import reverse
from pypdf import PdfReader

from jobs.visits.actions import tick
from jobs.visits.reports import install_sheet
from jobs.visits.reports.loads import day_paths, names_of
from quotes.safety.actions import state_load
from shared.length import TICKS_PER_MM, UnitSystem
from tests.factories.jobs import AT, make_full_job
from tests.factories.people import make_person, make_profile
from tests.factories.visits import make_day

pytestmark = pytest.mark.django_db
KINDS = (
    ("wall-panel", 600, 1200, 14),
    ("hung-panel", 1200, 900, 4),
    ("reveal-panel", 873, 1411, 1),
    ("corner-panel", 400, 1200, 2),
)


@pytest.fixture
def day(fitter, shop):
    return _day(by=fitter)


def read(client, name, day):
    response = client.get(reverse(f"jobs:{name}", args=(day.pk,)))
    assert response["Content-Type"] == "application/pdf"
    start = {"install-sheet": "install", "van-list-pdf": "van-list"}[name]
    named = f'inline; filename="{start}-{day.job.code}-{day.on:%Y-%m-%d}.pdf"'
    assert response["Content-Disposition"] == named
    assert response["Cache-Control"] == "private, no-store"
    return PdfReader(io.BytesIO(response.content))


def words(reader):
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


def elements(reader):
    """Walk the tags of a document: kind and alternative text of each."""

    def walk(node):
        node = node.get_object()
        if isinstance(node, dict):
            yield str(node.get("/S", "")), str(node.get("/Alt", ""))
            kids = node.get("/K", [])
            for kid in kids if isinstance(kids, list) else [kids]:
                if not isinstance(kid, int):
                    yield from walk(kid)

    return list(walk(reader.trailer["/Root"]["/StructTreeRoot"]["/K"][0]))


def fonts(reader):
    found = set()
    for page in reader.pages:
        for font in page["/Resources"].get("/Font", {}).values():
            made = font.get_object()
            descendant = made.get("/DescendantFonts", [made])[0].get_object()
            found.add(
                (
                    str(made["/BaseFont"]),
                    "/FontFile" in str(descendant["/FontDescriptor"]),
                )
            )
    return found


@pytest.fixture(scope="module")
def printed(django_db_setup, django_db_blocker):
    """Print the papers of one day once: for a fitter, for a maker, and the van list."""
    with django_db_blocker.unblock(), transaction.atomic():
        make_profile()
        finn = make_person(username="finn", first_name="Finn", role="fitter")
        mina = make_person(username="mina", first_name="Mina", role="maker")
        made = _day(by=finn)
        tick(made, "tool:laser", on=True, by=finn, at=AT)
        papers = {
            "fitter": read(_browser(finn), "install-sheet", made),
            "maker": read(_browser(mina), "install-sheet", made),
            "van": read(_browser(finn), "van-list-pdf", made),
            "codes": [panel.code for panel in made.panels.all()],
            "cautions": [caution.title for caution in install_sheet(made).cautions],
        }
        transaction.set_rollback(True)
    return papers


def _browser(person):
    browser = Client()
    browser.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    return browser


def _day(*, by):
    job = make_full_job(by=by, kinds=KINDS)
    details = job.client.details
    details.phone = "01632 960 144"
    details.index()
    details.save()
    return make_day(by=by, job=job, crew=(by,), notes="Ring the back door.")


@pytest.fixture
def sheet(printed):
    return printed["fitter"]


def test_the_sheet_has_panels_hardware_order_and_room_to_sign(sheet):
    found = words(sheet)
    for wanted in (
        "Install sheet J",
        "Thu 12 March 2026, 8:30",
        "Europe/London",
        "Screw for the wall cleat",
        "28 needed, 6 to spare",
        "Order of work",
        "Overhead work first.",
        "Cleat 300 mm long",
        "for an opening of 873 × 1411 mm",
        "they do not keep noise from coming through walls",
        "Client: name, date, signature",
        "Fitter: name, date, signature",
    ):
        assert wanted in found, wanted


def test_every_panel_stands_on_both_by_code(printed):
    assert len(printed["codes"]) == 21
    for name in ("fitter", "van"):
        found = words(printed[name])
        assert all(code in found for code in printed["codes"])


def test_what_is_not_cleared_is_said_in_plain_words(sheet):
    found = words(sheet)
    assert "Not cleared to hang" in found
    assert "no rating for the through-bolted eye with washers and nut" in found
    assert "the framing of the ceiling has not been found" in found
    assert "These stay down until a competent person has cleared them" in found


def test_once_everything_is_stated_the_sheet_clears_it(client_as, owner, day):
    for subject, name in names_of(day_paths(day)).items():
        state_load(subject, name=name, load_n=5e3, source="Load test", by=owner, at=AT)
    found = words(read(client_as(owner), "install-sheet", day))
    assert "Not cleared" not in found
    assert "Cleared on what is on record: J" in found


def test_it_has_its_cautions_five_at_most(printed, sheet):
    found = words(sheet)
    between = found[found.index("Take care") : found.index("Local codes and licensed")]
    assert len(printed["cautions"]) == 5
    assert all(f"{title}:" in between for title in printed["cautions"])


def test_it_is_tagged_and_its_pictures_have_words(sheet):
    root = sheet.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en-GB"
    kinds = [kind for kind, _ in elements(sheet)]
    assert {"/H1", "/H2", "/Table", "/TH", "/TD", "/L"} <= set(kinds)
    alts = [alt for kind, alt in elements(sheet) if kind == "/Figure"]
    assert len(alts) == 4
    assert all(alts)


def test_its_fonts_are_embedded(sheet):
    found = fonts(sheet)
    assert found
    assert all(embedded for _, embedded in found)
    assert any("Atkinson" in name for name, _ in found)


def test_it_is_a_few_pages_in_the_shops_paper(sheet):
    assert 2 <= len(sheet.pages) <= 5
    assert round(float(sheet.pages[0].mediabox.width)) == 595


def test_address_and_phone_are_for_those_who_see_clients(printed):
    for secret in ("4 Weir Lane", "01632 960 144"):
        assert secret in words(printed["fitter"])
        assert secret not in words(printed["maker"])


def test_it_says_all_that_is_known_of_getting_in(client_as, fitter, day):
    site = day.site
    site.parking, site.narrowest_door_ticks = "in the yard", 720 * TICKS_PER_MM
    site.save()
    told = words(read(client_as(fitter), "install-sheet", day))
    assert "Parking: in the yard" in told
    assert "Narrowest door on the way in: 720 mm" in told
    page = client_as(fitter).get(day.get_absolute_url()).content.decode()
    assert "Parking: in the yard" in page


@pytest.mark.parametrize("name", ["fitter", "maker", "van"])
def test_there_is_no_money_on_any(printed, name):
    assert not re.search(r"€|EUR|77\.77|100\.00", words(printed[name]))


def test_the_van_list_has_every_kind_of_line_and_shows_what_is_in(printed):
    found = words(printed["van"])
    for wanted in ("Line laser", "in: Finn", "Masonry bits", "Wall cleat, 300 mm"):
        assert wanted in found
    assert printed["van"].trailer["/Root"]["/MarkInfo"]["/Marked"]


def test_a_panel_that_was_measured_gets_a_block_of_its_own(day, fitter):
    reveal = day.panels.get(kind="reveal")
    reveal.measured_width_ticks, reveal.measured_width_text = 870 * 320, "870"
    reveal.measured_height_ticks, reveal.measured_height_text = 1410 * 320, "1410"
    reveal.save()
    (group,) = [g for g in install_sheet(day).groups if g.codes == reveal.code]
    assert group.opening == "870 × 1410 mm"


def test_inches_on_letter_paper(client_as, owner, shop):
    make_profile(unit_system="imperial", paper="Letter")
    job = make_full_job(by=owner, units=UnitSystem.IMPERIAL)
    reader = read(client_as(owner), "install-sheet", make_day(by=owner, job=job))
    assert round(float(reader.pages[0].mediabox.width)) == 612
    found = words(reader)
    assert "lb" in found
    assert "1200 mm" not in found


def test_a_day_without_panels_still_prints(client_as, owner, day):
    empty = make_day(by=owner, job=day.job, panels=(), kind="survey")
    for name, said in (
        ("install-sheet", "No panels go that day."),
        ("van-list-pdf", "nothing to load"),
    ):
        assert said in words(read(client_as(owner), name, empty))


def test_queries_of_the_sheet_do_not_grow_with_panels(owner, shop, count_queries):
    counts = []
    for panels in (2, 20):
        kinds = (("wall-panel", 600, 1200, panels), ("hung-panel", 1200, 900, panels))
        day = make_day(by=owner, job=make_full_job(by=owner, kinds=kinds))
        counts.append(count_queries(lambda day=day: install_sheet(day)))
    assert counts[0] == counts[1] <= 3


@pytest.mark.parametrize(
    ("panels", "pages"),
    # twelve would leave hardly more than the signatures for a third page
    [(8, 2), (12, 2), (16, 3)],
)
def test_no_sheet_ends_in_a_page_that_is_nearly_empty(
    client_as, fitter, shop, panels, pages
):
    job = make_full_job(by=fitter, kinds=(("wall-panel", 600, 1200, panels),))
    paper = read(client_as(fitter), "install-sheet", make_day(by=fitter, job=job))
    assert len(paper.pages) == pages
    last = paper.pages[-1].extract_text()
    assert "Handed over" in last
    assert f"-{panels:02d}" in last, "the last page has more than room to sign"
