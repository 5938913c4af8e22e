"""Builds: list, page with an example, copy, put aside, bench sheet."""

import datetime as dt
import io

import pytest
from django.urls import reverse
from pypdf import PdfReader

from quotes.specs.models import BuildSpec
from quotes.specs.starter import install_starter
from shared.models import Entry
from shop.catalogue.models import Material
from tests.cast import AS_HTMX
from tests.factories.people import make_profile
from tests.factories.specs import make_spec
from tests.pages import grows, soup, text

AT = dt.datetime(2026, 3, 2, 9, tzinfo=dt.UTC)
LIST = "/builds/"
SENTINEL = "98765.43"
BOTH = {"w": "1200", "h": "900"}


@pytest.fixture
def five(shop, owner):
    install_starter(at=AT, by=owner)
    return {spec.preset: spec for spec in BuildSpec.objects.all()}


@pytest.fixture
def wall(five):
    return five["wall-panel"]


@pytest.fixture
def browser(client_as, maker):
    return client_as(maker)


def url_of(name, spec):
    return reverse(f"quotes:{name}", args=(spec.pk,))


class TestList:
    def test_an_empty_shop_is_told_how_to_begin(self, shop, client_as, office):
        page = soup(client_as(office).get(LIST))
        assert "No builds yet" in text(page.main)
        assert page.select_one('form[action="/builds/starter/"] button')

    def test_the_office_adds_the_five_with_one_button(self, shop, client_as, office):
        page = soup(client_as(office).post("/builds/starter/", follow=True))
        assert BuildSpec.objects.count() == 5
        assert "5 builds added" in text(page.select_one("#messages"))

    def test_a_maker_is_not_offered_the_starter_and_may_not_ask(self, shop, browser):
        assert not soup(browser.get(LIST)).select('form[action="/builds/starter/"]')
        assert browser.post("/builds/starter/").status_code == 403

    def test_each_build_is_shown_with_picture_and_mass(self, five, browser):
        rows = soup(browser.get(LIST)).select("#builds tbody tr")
        assert len(rows) == 5
        assert all(row.select("svg title") and " kg" in text(row) for row in rows)

    def test_a_search_finds_by_kind_and_answers_htmx_with_the_list(self, five, browser):
        response = browser.get(LIST, {"q": "hung"}, headers=AS_HTMX)
        page = soup(response)
        assert not page.find("html")
        assert page.find(id="builds")
        assert [text(a) for a in page.select("th a")] == [
            "Hung panel on links and chain"
        ]

    def test_a_search_that_finds_nothing_says_so(self, five, browser):
        assert "No build has these words" in text(
            soup(browser.get(LIST + "?q=zz")).main
        )

    def test_queries_do_not_grow(self, shop, browser):
        assert grows(browser, LIST, make_spec) == 0


class TestPage:
    def test_it_shows_what_it_takes_at_the_usual_size(self, wall, browser):
        page = soup(browser.get(wall.get_absolute_url()))
        words = text(page.main)
        assert (
            "Frame, as it is cut 600 × 1200 mm the nominal size 100 mm deep." in words
        )
        assert "603 × 1203 mm 600 × 1200 mm + 3 mm of fabric each way" in words
        assert "1200 mm − 2 × 15 mm = 1170 mm" in words
        assert "4 per joint × 4 = 16" in words
        assert page.select_one("figure.drawing svg > title")

    def test_another_size_comes_by_address_and_as_a_fragment(self, wall, browser):
        asked = {"w": "24 in", "h": "48 in"}
        page = soup(browser.get(wall.get_absolute_url(), asked, headers=AS_HTMX))
        assert not page.find("html")
        assert page.find(id="build-example")
        assert "609.6 × 1219.2 mm" in text(page)

    @pytest.mark.parametrize(
        ("asked", "field"),
        [
            ({"w": "", "h": "1200"}, "w"),
            ({"w": "wide", "h": "1200"}, "w"),
            ({"w": "-5", "h": "1200"}, "w"),
            ({"w": "600", "h": "0"}, "h"),
            ({"w": "600", "h": "99 m"}, "h"),
            ({"w": "600", "h": "9" * 400}, "h"),
            ({"w": "600\0", "h": "1200"}, "w"),
            ({"w": "\u202e600", "h": "1200"}, "w"),
            ({"w": "90", "h": "1200"}, "w"),
            ({"w": "600", "h": "3000"}, "h"),
        ],
    )
    def test_a_size_that_cannot_be_is_refused_beside_it(
        self, wall, browser, asked, field
    ):
        response = browser.get(wall.get_absolute_url(), asked)
        assert response.status_code == 422
        page = soup(response)
        assert text(page.select_one(f"#id_{field}_field .errorlist"))
        assert page.select_one(f"#id_{field}").get("value", "") == asked[field]

    def test_a_reveal_panel_is_smaller_than_its_opening(self, five, browser):
        page = soup(browser.get(five["reveal-panel"].get_absolute_url()))
        words = text(page.main)
        assert "594 × 1194 mm 600 × 1200 mm of opening − 2 × 3 mm each way" in words
        assert "591 × 1191 mm 594 × 1194 mm − 3 mm of fabric each way" in words

    def test_opening_and_made_size_are_both_named(self, five, browser):
        page = browser.get(five["reveal-panel"].get_absolute_url(), BOTH)
        said = text(soup(page).find(id="build-example"))
        assert "opening 1200 × 900 mm, made 1194 × 894 mm" in said
        assert "Opening, by its smallest readings 1200 × 900 mm" in said
        wall = browser.get(five["wall-panel"].get_absolute_url(), BOTH)
        assert ", made " not in text(soup(wall).find(id="build-example"))

    def test_what_is_too_heavy_for_one_is_flagged_and_still_shown(self, wall, browser):
        BuildSpec.objects.update(one_person_kg=5)
        page = soup(browser.get(wall.get_absolute_url()))
        assert "over 5.0 kg for one person" in text(page.select_one(".caution"))
        assert page.select("figure.drawing svg")

    def test_a_build_that_is_wrong_in_itself_says_so(self, wall, browser):
        BuildSpec.objects.update(depth_ticks=60 * 320)
        response = browser.get(wall.get_absolute_url())
        assert response.status_code == 200
        assert text(soup(response).select_one(".caution--stop"))

    def test_no_price_is_ever_on_it(self, wall, client_as, maker, fitter, owner):
        Material.objects.update(pack_price=SENTINEL)
        for person in (maker, fitter, owner):
            for url in (wall.get_absolute_url(), LIST, url_of("build-change", wall)):
                assert SENTINEL not in client_as(person).get(url).content.decode()

    def test_a_fitter_looks_and_changes_nothing(self, wall, client_as, fitter):
        browser = client_as(fitter)
        page = soup(browser.get(wall.get_absolute_url()))
        assert not page.select("form[method=post][action*=builds]")
        for name in ("build-copy", "build-archive", "build-restore", "build-change"):
            assert browser.post(url_of(name, wall)).status_code == 403

    def test_an_outsider_signs_in_first(self, wall, client):
        for url in (LIST, wall.get_absolute_url(), url_of("build-sheet", wall)):
            assert client.get(url).status_code == 302

    def test_a_build_that_is_not_there_is_not_found(self, shop, browser):
        assert (
            browser.get(f"/builds/{'0' * 8}-0000-4000-8000-{'0' * 12}/").status_code
            == 404
        )

    def test_wrong_methods_are_refused(self, wall, browser):
        assert browser.get(url_of("build-copy", wall)).status_code == 405
        assert browser.post(wall.get_absolute_url()).status_code == 405


class TestCopyAndArchive:
    def test_a_copy_has_every_part_and_goes_on_to_be_changed(self, wall, browser):
        response = browser.post(url_of("build-copy", wall))
        copy = BuildSpec.objects.get(name=f"Copy of {wall.name}")
        assert response["Location"] == url_of("build-change", copy)
        for rows in ("braces", "items", "operations"):
            assert getattr(copy, rows).count() == getattr(wall, rows).count() > 0
        assert copy.preset == ""

    def test_a_second_copy_gets_a_number(self, wall, browser):
        for _ in range(2):
            browser.post(url_of("build-copy", wall))
        assert BuildSpec.objects.filter(name=f"Copy of {wall.name} 2").exists()

    def test_putting_aside_can_be_undone(self, wall, browser):
        page = soup(browser.post(url_of("build-archive", wall), follow=True))
        undo = page.select_one("#messages form")
        assert undo["action"] == url_of("build-restore", wall)
        assert not BuildSpec.objects.live().filter(pk=wall.pk).exists()
        browser.post(undo["action"])
        assert BuildSpec.objects.live().filter(pk=wall.pk).exists()
        verbs = Entry.objects.filter(subject_id=wall.pk).values_list("verb", flat=True)
        assert {"archive", "restore"} <= set(verbs)

    def test_a_name_taken_meanwhile_keeps_it_aside(self, wall, browser):
        browser.post(url_of("build-archive", wall))
        make_spec(name=wall.name.upper())
        page = soup(browser.post(url_of("build-restore", wall), follow=True))
        assert "already has this name" in text(page.select_one("#messages"))
        assert BuildSpec.objects.get(pk=wall.pk).is_archived


class TestBenchSheet:
    def test_it_is_a_tagged_pdf_with_parts_cautions_and_no_price(self, wall, browser):
        Material.objects.update(pack_price=SENTINEL)
        response = browser.get(url_of("build-sheet", wall), {"w": "600", "h": "1200"})
        assert response["Content-Type"] == "application/pdf"
        named = 'inline; filename="bench-sheet.pdf"'
        assert response["Content-Disposition"] == named
        assert response["Cache-Control"] == "private, no-store"
        reader = PdfReader(io.BytesIO(response.content))
        words = " ".join(" ".join(page.extract_text().split()) for page in reader.pages)
        for part in (
            "1170 mm",
            "Cut list",
            "Order of work",
            "Tilted rip",
            "Wool fibre",
        ):
            assert part in words
        assert SENTINEL not in words
        assert len(reader.pages) == 2
        assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]

    def test_a_size_that_cannot_be_is_told_on_the_page(self, wall, browser):
        response = browser.get(url_of("build-sheet", wall), {"w": "90", "h": "1200"})
        assert response.status_code == 422
        assert "text/html" in response["Content-Type"]

    def test_on_letter_paper_in_inches(self, wall, browser):
        make_profile(unit_system="imperial", paper="Letter")
        response = browser.get(url_of("build-sheet", wall), {"w": "24", "h": "48"})
        page = PdfReader(io.BytesIO(response.content)).pages[0]
        assert (round(page.mediabox.width), round(page.mediabox.height)) == (612, 792)
        assert "24 × 48 in" in " ".join(page.extract_text().split())

    def test_the_order_of_work_is_on_one_page(self, five, browser):
        hung = url_of("build-sheet", five["hung-panel"])
        response = browser.get(hung, {"w": "1200", "h": "2400"})
        pages = PdfReader(io.BytesIO(response.content)).pages
        texts = [" ".join(page.extract_text().split()) for page in pages]
        (page,) = [text for text in texts if "Order of work" in text]
        assert "Measure the stock and mark up" in page
        assert "Check, wrap and label" in page
