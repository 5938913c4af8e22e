"""Files of the stores as pages: out, in, looked at, stored whole or not, put back."""

import datetime as dt
from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import IntegrityError
from django.urls import reverse
from django.utils import timezone

from shared.audit.models import Entry
from shop.catalogue import actions
from shop.catalogue.models import Import, Material, PriceChange, Supplier
from tests.factories import catalogue as make
from tests.pages import queries, soup, text

PAGE = "/stores/files/"
NEW = "code,kind,name,pack_price,put_aside\neye,hardware,Eye bolt,22,no\n"


@pytest.fixture
def browser(client_as, office, shop):
    return client_as(office)


def bring(browser, content, what="materials", name="list.csv"):
    data = content if isinstance(content, bytes) else content.encode()
    file = SimpleUploadedFile(name, data, content_type="text/csv")
    return browser.post(PAGE, {"what": what, "file": file})


def looked(browser, content, what="materials"):
    """Bring a file in; return it and its page."""
    response = bring(browser, content, what)
    assert response.status_code == 302, text(soup(response).main)
    imported = Import.objects.recent().first()
    assert response["Location"] == imported.get_absolute_url()
    return imported, soup(browser.get(response["Location"]))


def store(browser, imported, **more):
    seen = {"seen": Import.objects.get(pk=imported.pk).digest}
    url = reverse("shop:import-store", args=[imported.pk])
    return browser.post(url, seen | more, follow=True)


def undo(browser, imported):
    url = reverse("shop:import-undo", args=[imported.pk])
    return text(soup(browser.post(url, follow=True)).main.find_parent())


def out(browser, what="materials"):
    return browser.get(reverse("shop:export", args=[what])).content


def rows():
    return list(Material.objects.order_by("code").values())


class TestAccess:
    URLS = ("imports", "import", "import-store", "import-undo")

    @pytest.mark.parametrize("who", ["maker", "fitter"])
    def test_whoever_sees_no_prices_gets_no_files(self, request, client_as, shop, who):
        browser = client_as(request.getfixturevalue(who))
        assert browser.get(PAGE).status_code == 403
        assert bring(browser, NEW).status_code == 403
        for what in ("materials", "suppliers", "operations", "finishes"):
            assert browser.get(f"{PAGE}{what}.csv").status_code == 403
        for name in self.URLS[1:]:
            url = reverse(f"shop:{name}", args=[make.make_sheet().pk])
            assert browser.get(url).status_code == browser.post(url).status_code == 403
        assert 'href="/stores/files/' not in browser.get("/stores/").content.decode()

    def test_strangers_sign_in_first(self, client, shop):
        assert client.get(PAGE).status_code == 302
        assert client.get(f"{PAGE}materials.csv").status_code == 302

    def test_wrong_methods_and_stale_ids(self, browser):
        nobody = make.make_sheet().pk
        assert browser.get(f"{PAGE}lead.csv").status_code == 404
        assert browser.post(f"{PAGE}materials.csv").status_code == 405
        for name in self.URLS[2:]:
            url = reverse(f"shop:{name}", args=[nobody])
            assert browser.get(url).status_code == 405
            assert browser.post(url).status_code == 404


class TestOut:
    def test_a_list_is_a_file_to_keep(self, browser):
        make.make_sheet(code="ply", name="=Ply", archived_at=timezone.now())
        response = browser.get(f"{PAGE}materials.csv")
        assert response["Content-Type"].startswith("text/csv; charset=utf-8")
        assert "attachment" in response["Content-Disposition"]
        assert response["Cache-Control"] == "private, no-store"
        lines = response.content.decode("utf-8-sig").split("\r\n")
        assert "pack_price (EUR)" in lines[0]
        assert lines[1].startswith("sheet,'=Ply,ply,")
        assert lines[1].endswith(",yes")

    def test_as_many_questions_for_two_rows_as_for_twenty(self, browser):
        for _ in range(2):
            make.make_fabric(supplier=make.make_supplier())
        few = queries(browser, f"{PAGE}materials.csv")
        for _ in range(18):
            make.make_fabric(supplier=make.make_supplier())
        assert queries(browser, f"{PAGE}materials.csv") == few


class TestIn:
    @pytest.mark.parametrize(
        ("content", "said"),
        [
            (b"", "empty"),
            (b"PK\x03\x04", "workbook"),
            (b"code\n\0", "no UTF-8"),
            (b"x" * 2_000_001, "too large: at most 2 MB"),
            (b"code,hue\na,b\n", "no column “hue”"),
        ],
        ids=["empty", "workbook", "nul", "large", "column"],
    )
    def test_what_is_no_list_is_refused_beside_the_file(self, browser, content, said):
        response = bring(browser, content)
        assert response.status_code == 422
        page = soup(response)
        assert said in text(page.select_one("#id_file_field .errorlist"))
        assert not Import.objects.exists()

    def test_no_file_and_no_such_list(self, browser):
        page = soup(browser.post(PAGE, {"what": "lead"}))
        assert text(page.select_one("#id_file_field .errorlist")) == "Choose a file."
        assert page.select_one("#id_what_field .errorlist")

    @pytest.mark.parametrize("what", ["", "suppliers", "operations", "finishes"])
    def test_each_list_leads_here_with_itself_chosen(self, browser, what):
        page = soup(browser.get(f"/stores/{what}/".replace("//", "/"))).main
        (link,) = page.select(f'a[href^="{PAGE}"]')
        chosen = soup(browser.get(link["href"])).select("option[selected]")
        assert [option["value"] for option in chosen] == ([what] if what else [])

    def test_a_file_is_looked_at_before_anything_is_stored(self, browser):
        make.make_sheet(code="ply", name="Ply", pack_price=Decimal("41.20"))
        before = rows()
        content = NEW + "ply,,Birch ply,43.90,\nbad one,sheet,Bad,,\n"
        _, page = looked(browser, content.replace("ply,,", "ply,sheet,"))
        shown = [text(tr) for tr in page.select("tbody tr")]
        assert "new" in shown[0]
        assert "pack price 41.20 → 43.90 (+6.6 %)" in shown[1]
        assert "name Ply → Birch ply" in shown[1]
        assert "refused Code bad one :" in shown[2]
        assert rows() == before
        choices = [text(a) for a in page.select(".choices a")]
        assert choices == ["To look at: 3", "New: 1", "Changed: 1", "Refused: 1"]
        assert "Store these 2" in text(page.main)

    def test_lines_are_shown_by_effect_and_by_fifty(self, browser):
        names = "".join(f"Yard {n},1\n" for n in range(60))
        imported, page = looked(browser, f"name,lead_days\n{names}", "suppliers")
        assert len(page.select("tbody tr")) == 50
        url = f"{imported.get_absolute_url()}?effect=new&page=2"
        assert len(soup(browser.get(url)).select("tbody tr")) == 10
        odd = soup(browser.get(f"{imported.get_absolute_url()}?effect=x\0"))
        assert len(odd.select("tbody tr")) == 50

    def test_as_many_questions_for_two_lines_as_for_twenty(self, browser):
        few, _ = looked(browser, "name\na\nb\n", "suppliers")
        many, _ = looked(
            browser, "name\n" + "".join(f"y{n}\n" for n in range(20)), "suppliers"
        )
        assert queries(browser, many.get_absolute_url()) == queries(
            browser, few.get_absolute_url()
        )
        assert queries(browser, PAGE) == queries(browser, PAGE)

    def test_what_was_left_a_week_ago_goes(self, browser):
        old, _ = looked(browser, NEW)
        Import.objects.update(looked_at=timezone.now() - dt.timedelta(days=8))
        looked(browser, NEW)
        assert not Import.objects.filter(pk=old.pk).exists()


class TestStored:
    def test_new_and_changed_rows_are_stored_with_who_did_it(self, browser, office):
        ply = make.make_sheet(code="ply", pack_price=Decimal(40))
        imported, _ = looked(browser, NEW + "ply,sheet,Birch ply,43.90,yes\n")
        page = text(soup(store(browser, imported)).body)
        assert "2 rows stored." in page
        ply.refresh_from_db()
        assert (ply.name, ply.pack_price) == ("Birch ply", Decimal("43.90"))
        assert ply.is_archived
        assert ply.thickness_ticks == make.mm(14.6)
        eye = Material.objects.get(code="eye")
        assert set(PriceChange.objects.values_list("material__code", "was", "now")) == {
            ("ply", Decimal(40), Decimal("43.90")),
            ("eye", None, Decimal(22)),
        }
        for row, verb in ((ply, "change"), (eye, "add")):
            (entry,) = Entry.objects.about("material", row.pk)
            assert (entry.verb, entry.by) == (verb, office)
            assert "43" not in entry.text  # makers read it, too

    def test_refused_lines_are_left_out_only_when_somebody_says_so(self, browser):
        imported, _ = looked(browser, NEW + "x y,hardware,Bad,1,no\n")
        response = store(browser, imported)
        assert response.status_code == 422
        beside = soup(response).select_one("#id_leave_out_field .errorlist")
        assert "Say that they are left out" in text(beside)
        assert not Material.objects.exists()
        page = text(soup(store(browser, imported, leave_out="on")).body)
        assert "1 row stored. 1 left out." in page
        assert Material.objects.count() == 1

    def test_a_file_is_stored_once(self, browser):
        imported, _ = looked(browser, NEW)
        store(browser, imported)
        assert "stored already" in text(soup(store(browser, imported)).body)
        assert Entry.objects.about("import", imported.pk).count() == 1

    def test_nothing_to_store(self, browser):
        make.make_sheet()
        imported, page = looked(browser, out(browser))
        assert "Every line is the same" in text(page.main)
        assert "nothing to store" in text(soup(store(browser, imported)).body)
        assert not Import.objects.get().is_stored

    @pytest.mark.parametrize("seen", ["", "0" * 64])
    def test_what_was_not_seen_is_not_stored(self, browser, seen):
        imported, _ = looked(browser, NEW)
        response = store(browser, imported, seen=seen)
        assert "The stores changed" in text(soup(response).body)
        assert not Material.objects.exists()

    def test_stores_that_changed_are_looked_at_again(self, browser):
        ply = make.make_sheet(code="ply", pack_price=Decimal(40))
        imported, _ = looked(browser, "code,pack_price\nply,43\n")
        Material.objects.update(pack_price=Decimal(41))
        page = soup(store(browser, imported))
        assert "The stores changed" in text(page.body)
        assert "pack price 41.00 → 43.00" in text(page.main)
        ply.refresh_from_db()
        assert ply.pack_price == 41
        store(browser, imported)
        ply.refresh_from_db()
        assert ply.pack_price == 43

    def test_other_conventions_since_are_told(self, browser, shop):
        imported, _ = looked(
            browser, "code,kind,name,pack_price (EUR)\ne,hardware,E,1\n"
        )
        shop.currency = "USD"
        shop.save()
        assert "here it takes “USD”" in text(soup(store(browser, imported)).body)
        assert not Material.objects.exists()

    def test_all_or_nothing(self, office, browser, monkeypatch):
        yard = make.make_supplier(name="Yard")
        imported, _ = looked(browser, "name,lead_days\nYard,9\nOther,1\n", "suppliers")
        before = list(Supplier.objects.values())

        def late(*args, **kwargs):
            raise IntegrityError

        monkeypatch.setattr("shop.catalogue.actions.imports.record", late)
        with pytest.raises(IntegrityError):
            store(browser, imported)
        assert list(Supplier.objects.values()) == before
        assert not Entry.objects.about("supplier", yard.pk).exists()

    def test_a_row_changed_under_the_hand_stops_it_all(self, office, browser):
        make.make_supplier(name="Yard")
        imported, _ = looked(browser, "name,lead_days\nYard,9\nOther,1\n", "suppliers")
        held = Supplier.objects.get()
        Supplier.objects.update(lead_days=4)
        wanted = Supplier(pk=held.pk, name="Yard", lead_days=9)
        writings = [
            actions.Writing(Supplier(name="Other")),
            actions.Writing(wanted, held, ("lead_days",)),
        ]
        with pytest.raises(actions.StoresMovedError):
            actions.store_import(imported, writings, by=office, at=timezone.now())
        assert Supplier.objects.get().lead_days == 4

    def test_an_empty_shop_gets_all_that_another_has(self, browser):
        yard = make.make_supplier(name="Yard & Söhne")
        for made in (
            make.make_sheet,
            make.make_board,
            make.make_fabric,
            make.make_fill,
        ):
            made(supplier=yard)
        make.make_hardware(
            rated_load_n=490.3325, rating_source="stamped", colour="zinc"
        )
        files = {what: out(browser, what) for what in ("suppliers", "materials")}
        for model in (Material, Supplier):
            model.objects.all().delete()
        for what, content in files.items():
            store(browser, looked(browser, content, what)[0])
            assert out(browser, what) == content


class TestPutBack:
    def test_former_values_come_back_and_new_rows_go(self, browser):
        make.make_sheet(code="ply", supplier=make.make_supplier(name="Yard"))
        make.make_fabric(code="moss", archived_at=timezone.now())
        before = rows()
        imported, _ = looked(
            browser,
            "code,kind,name,supplier,pack_price,directional,density,put_aside,mass_each\n"
            "ply,sheet,Birch,,43.90,yes,700,yes,\n"
            "moss,fabric,Moss,Yard,,,,no,3\n"
            "eye,hardware,Eye,,,,,no,\n",
        )
        store(browser, imported)
        assert len(rows()) == 3
        assert "Undone: 2 as before, 1 taken out again." in undo(browser, imported)
        assert rows() == before
        assert not Import.objects.get().is_stored
        assert PriceChange.objects.filter(now=Decimal(48)).exists()

    def test_it_can_be_stored_again(self, browser):
        imported, _ = looked(browser, NEW)
        store(browser, imported)
        undo(browser, imported)
        assert "1 row stored" in text(soup(store(browser, imported)).body)
        assert not Material.objects.get().is_archived

    def test_what_somebody_changed_since_stays(self, browser):
        ply = make.make_sheet(code="ply", name="Ply", colour="")
        imported, _ = looked(browser, "code,name,colour\nply,Birch,pale\n")
        store(browser, imported)
        Material.objects.update(name="Best birch")
        assert "1 partly as somebody left it since" in undo(browser, imported)
        ply.refresh_from_db()
        assert (ply.name, ply.colour) == ("Best birch", "")

    def test_new_rows_that_are_used_are_put_aside(self, browser):
        imported, _ = looked(browser, "name\nYard\nIdle yard\n", "suppliers")
        store(browser, imported)
        yard = Supplier.objects.get(name="Yard")
        make.make_sheet(supplier=yard)
        assert "1 taken out again, 1 put aside" in undo(browser, imported)
        assert [s.is_archived for s in Supplier.objects.all()] == [True]

    def test_former_values_that_do_not_fit_any_more_change_nothing(self, browser):
        yard = make.make_hardware(code="eye", rated_load_n=490.0, rating_source="eye")
        imported, _ = looked(browser, "code,rated_load,rating_source\neye,,eye\n")
        store(browser, imported)
        Material.objects.update(rating_source="")
        assert "This can’t be put back" in undo(browser, imported)
        yard.refresh_from_db()
        assert yard.rated_load_n is None

    def test_what_is_not_stored_can_not_be_put_back(self, browser):
        imported, _ = looked(browser, NEW)
        assert "it is not stored" in undo(browser, imported)
