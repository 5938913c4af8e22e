"""Stock on its pages: list, one material, take out, book in, count, take back."""

from decimal import Decimal as D

import pytest
from django.urls import reverse

from shared.slots import Section
from shop.catalogue.actions import undo_move
from shop.catalogue.models import StockLevel, StockMove
from shop.catalogue.slots import MATERIAL_SECTIONS, PROMISES, Line, Promised
from tests.cast import AS_HTMX
from tests.factories import catalogue as make
from tests.factories.stock import AT, make_move, make_piece
from tests.pages import BAD_TEXTS, grows, refused, soup, text

pytestmark = pytest.mark.django_db

LIST = "/stores/"
WHAT = ("out", "in", "count")


def url_of(what, material):
    return reverse(f"shop:stock-{what}", args=[material.pk])


def level(material, lot=""):
    return StockLevel.objects.get(material=material, lot=lot).quantity


@pytest.fixture
def browser(client_as, office, shop):
    return client_as(office)


@pytest.fixture
def at_bench(client_as, maker, shop):
    return client_as(maker)


class TestList:
    def test_it_shows_what_is_there_and_what_is_free(
        self, browser, office, monkeypatch
    ):
        ply = make.make_sheet()
        make_move(ply, 9, by=office)
        monkeypatch.setattr(PROMISES, "_functions", [])
        PROMISES.add(lambda ids: {ply.pk: Promised(on_order=D(2), promised=D(15))})
        row = soup(browser.get(LIST)).select_one("#materials tbody tr")
        cells = {td["data-label"]: text(td) for td in row.select("td")}
        assert cells["On hand"] == "9 sheets"
        assert cells["Free"] == "−4 sheets short"

    @pytest.mark.parametrize(
        ("stock", "names"),
        [("below", ["Cloth"]), ("short", ["Batten"]), ("", ["Batten", "Cloth", "Ply"])],
    )
    def test_it_is_narrowed_to_what_wants_doing(self, browser, office, stock, names):
        cloth = make.make_fabric(name="Cloth")
        make_move(cloth, 50, lot="A", by=office)
        make_move(cloth, -1, lot="B", by=office)
        undo_move(
            make_move(make.make_board(name="Batten"), 4, by=office), by=office, at=AT
        )
        make.make_sheet(name="Ply")  # never counted: nothing is known of it
        page = soup(browser.get(LIST, {"stock": stock}))
        assert [text(a) for a in page.select("#materials th a")] == names
        if stock == "below":
            assert "below nothing: count it" in text(page.select_one("tbody tr"))

    def test_a_fitter_sees_materials_and_no_stock(self, client_as, fitter, shop):
        ply = make.make_sheet()
        make_move(ply, 9, by=fitter)
        page = client_as(fitter).get(LIST, {"stock": "short"})
        assert "On hand" not in text(soup(page).main)
        assert len(soup(page).select("#materials tbody tr")) == 1
        page = client_as(fitter).get(ply.get_absolute_url())
        assert "In the stores" not in text(soup(page).main)

    @pytest.mark.parametrize("query", ["", "?stock=short", "?stock=below"])
    def test_queries_do_not_grow(self, browser, office, query):
        def one():
            make_move(make.make_fabric(), -1, lot="A", by=office)

        assert grows(browser, LIST + query, one) == 0


class TestMaterial:
    def test_each_number_opens_to_show_how(self, browser, office, monkeypatch):
        ply = make.make_sheet()
        make_move(ply, 10, by=office)
        make_move(ply, -3, by=office)
        monkeypatch.setattr(PROMISES, "_functions", [])
        order = Line("Order B-1", D(4), "/orders/1/")
        job = Line("J7", D(6), "/jobs/7/")
        said = Promised(D(4), D(6), (order,), (job,))
        PROMISES.add(lambda ids: {ply.pk: said})
        stock = soup(browser.get(ply.get_absolute_url())).find(id="stock")
        hand, on_order, promised, free = map(text, stock.select("details"))
        assert hand.startswith("On hand 7 sheets")
        assert "delivered +10 sheets" in hand
        assert "used −3 sheets" in hand
        assert "Order B-1 4 sheets" in on_order
        assert "J7 6 sheets" in promised
        assert free.startswith("Free 5 sheets")
        assert "on hand 7 sheets on order +4 sheets promised to jobs −6 sheets" in free
        assert {a["href"] for a in stock.select("details a")} == {
            "/orders/1/",
            "/jobs/7/",
        }

    def test_a_maker_follows_jobs_and_no_orders(self, at_bench, monkeypatch):
        ply = make.make_sheet()
        lines = (Line("Order B-1", D(4), "/orders/1/"),)
        monkeypatch.setattr(PROMISES, "_functions", [])
        PROMISES.add(lambda ids: {ply.pk: Promised(D(4), order_lines=lines)})
        stock = soup(at_bench.get(ply.get_absolute_url())).find(id="stock")
        assert "Order B-1" in text(stock)
        assert not stock.select("details a")
        assert not stock.select_one(f'a[href="{url_of("in", ply)}"]')

    def test_below_nothing_is_said_on_its_page(self, at_bench, maker):
        ply = make.make_sheet(name="Ply")
        make_move(ply, -2, by=maker)
        said = text(soup(at_bench.get(ply.get_absolute_url())).select_one(".caution"))
        assert "Ply stands below nothing: −2 sheets." in said
        assert "Count it." in said

    def test_upper_apps_add_to_it(self, browser, monkeypatch):
        monkeypatch.setattr(MATERIAL_SECTIONS, "_functions", [])
        MATERIAL_SECTIONS.add(
            lambda request, material: Section(
                "shared/_empty.html", {"title": f"Of {material}"}
            )
        )
        page = browser.get(make.make_sheet(name="Ply").get_absolute_url())
        assert "Of Ply" in text(soup(page).main)

    def test_its_ledger_is_cut_into_pages(self, browser, office):
        ply = make.make_sheet()
        for _ in range(51):
            make_move(ply, 1, by=office)
        page = soup(browser.get(ply.get_absolute_url()))
        assert len(page.select("#moves tbody tr")) == 50
        second = soup(browser.get(ply.get_absolute_url(), {"page": 2}, headers=AS_HTMX))
        assert second.html is None
        assert len(second.select("#moves tbody tr")) == 1

    def test_queries_do_not_grow(self, browser, office):
        cloth = make.make_fabric()
        lots = iter(range(100))

        def one():
            move = make_move(cloth, 2, lot=f"L{next(lots)}", by=office)
            undo_move(move, by=office, at=AT)
            make_piece(cloth, by=office)

        assert grows(browser, cloth.get_absolute_url(), one) == 0


class TestMoves:
    def test_what_is_taken_out_is_said_with_a_way_back(self, at_bench, office):
        ply = make.make_sheet(name="Ply")
        make_move(ply, 10, by=office)
        typed = {"quantity": "3", "note": "cafe"}
        page = soup(at_bench.post(url_of("out", ply), typed, follow=True))
        message = page.select_one("#messages .message")
        assert "Ply: 3 sheets taken out." in text(message)
        assert level(ply) == 7
        page = soup(at_bench.post(message.form["action"], follow=True))
        assert "Taken back: Ply: 3 sheets." in text(page.find(id="messages"))
        assert level(ply) == 10

    def test_one_press_takes_a_few_out(self, at_bench):
        ply = make.make_sheet()
        page = soup(at_bench.get(url_of("out", ply)))
        few = [button["value"] for button in page.select("button[name=few]")]
        assert few == ["1", "2", "3", "4", "5", "10"]
        at_bench.post(url_of("out", ply), {"few": few[1]})
        assert level(ply) == -2
        assert not soup(at_bench.get(url_of("out", make.make_fabric()))).select(
            "button[name=few]"
        )

    def test_below_nothing_is_said_when_it_happens(self, at_bench):
        ply = make.make_sheet(name="Ply")
        page = at_bench.post(url_of("out", ply), {"quantity": "2"}, follow=True)
        said = text(soup(page).find(id="messages"))
        assert "Ply stands below nothing: −2 sheets." in said

    def test_what_comes_is_booked_in_with_lot_and_cost(self, browser):
        cloth = make.make_fabric()
        typed = {
            "quantity": "12,5",
            "lot": " H  7 ",
            "why": "delivered",
            "unit_cost": "18.2",
            "note": "note 77",
        }
        assert browser.post(url_of("in", cloth), typed).status_code == 302
        move = StockMove.objects.get()
        assert (move.quantity, move.lot, move.unit_cost) == (
            D("12.5"),
            "H 7",
            D("18.2"),
        )

    def test_the_only_lot_that_is_there_is_offered(self, at_bench, office):
        cloth = make.make_fabric()
        make_move(cloth, 10, lot="H 7", by=office)
        page = soup(at_bench.get(url_of("out", cloth)))
        assert page.select_one("[name=lot]")["value"] == "H 7"
        assert page.select_one("datalist option")["value"] == "H 7"
        assert "Of dye lot H 7 there should be 10 m." in text(page.main)

    @pytest.mark.parametrize("what", WHAT)
    @pytest.mark.parametrize(
        ("wrong", "field"),
        [
            ({"quantity": ""}, "quantity"),
            ({"quantity": "many"}, "quantity"),
            ({"quantity": "-1"}, "quantity"),
            ({"quantity": "1000001"}, "quantity"),
            ({"quantity": "9" * 40}, "quantity"),
            ({"quantity": "١٢"}, "quantity"),
            ({"quantity": "1.2345"}, "quantity"),
            ({"lot": "x" * 41}, "lot"),
            *[({"lot": bad}, "lot") for bad in BAD_TEXTS],
            ({"note": "x" * 201}, "note"),
            ({"note": BAD_TEXTS[0]}, "note"),
        ],
    )
    def test_what_can_not_be_is_refused(self, browser, what, wrong, field):
        typed = {"quantity": "3", "lot": "H 7", "note": "cafe"}
        why = {"why": "delivered"} if what == "in" else {}
        refused(browser, url_of(what, make.make_fabric()), typed | why | wrong, field)
        assert not StockMove.objects.exists()

    @pytest.mark.parametrize("what", ["out", "in"])
    @pytest.mark.parametrize("none", ["0", "2.5"])
    def test_sheets_come_and_go_whole(self, browser, what, none):
        typed = (
            {"quantity": none, "why": "delivered"}
            if what == "in"
            else {"quantity": none}
        )
        refused(browser, url_of(what, make.make_sheet()), typed, "quantity")

    @pytest.mark.parametrize(
        ("wrong", "field"),
        [({"why": "counted"}, "why"), ({"unit_cost": "-1"}, "unit_cost")],
    )
    def test_what_comes_says_why_and_at_what_cost(self, browser, wrong, field):
        typed = {"quantity": "3", "why": "delivered", "unit_cost": "5", "note": ""}
        url = url_of("in", make.make_sheet())
        response = browser.post(url, typed | wrong)
        assert response.status_code == 422
        assert soup(response).select(f"#id_{field}_field .errorlist li")

    def test_a_level_that_can_not_grow_is_told_beside_its_box(self, browser, office):
        ply = make.make_sheet()
        make_move(ply, 999_999_999, by=office)
        response = browser.post(url_of("in", ply), {"quantity": "1", "why": "back"})
        assert response.status_code == 422
        said = soup(response).select_one("#id_quantity_field .errorlist")
        assert "more than any stores hold" in text(said)


class TestCount:
    def test_a_difference_is_stored_with_its_reason_and_a_way_back(
        self, at_bench, office
    ):
        ply = make.make_sheet()
        make_move(ply, 10, by=office)
        typed = {"quantity": "8", "note": "two split", "seen": "10.000", "seen_lot": ""}
        page = soup(at_bench.post(url_of("count", ply), typed, follow=True))
        message = page.select_one("#messages .message")
        assert "Counted: 8 sheets. It should have been 10 sheets." in text(message)
        assert level(ply) == 8
        at_bench.post(message.form["action"])
        assert level(ply) == 10

    def test_as_it_should_be_needs_no_reason(self, at_bench, office):
        ply = make.make_sheet()
        make_move(ply, 10, by=office)
        page = at_bench.post(url_of("count", ply), {"quantity": "10"}, follow=True)
        assert "as it should be" in text(soup(page).find(id="messages"))
        assert StockMove.objects.count() == 1

    def test_a_difference_without_a_reason_is_asked_for_it(self, at_bench):
        page = refused(
            at_bench, url_of("count", make.make_sheet()), {"quantity": "4"}, "note"
        )
        assert "it should be 0 sheets" in text(page.find(id="id_note_field"))

    def test_what_was_moved_meanwhile_is_counted_again(self, at_bench, office):
        ply = make.make_sheet()
        make_move(ply, 10, by=office)
        seen = soup(at_bench.get(url_of("count", ply))).select_one("[name=seen]")[
            "value"
        ]
        make_move(ply, -2, by=office)
        typed = {"quantity": "9", "note": "one split", "seen_lot": ""}
        page = soup(at_bench.post(url_of("count", ply), typed | {"seen": seen}))
        assert page.select_one("[name=quantity]")["value"] == "9"
        assert "was 10 sheets, and should be 8 sheets now" in text(page.main)
        now = page.select_one("[name=seen]")["value"]
        assert (
            at_bench.post(url_of("count", ply), typed | {"seen": now}).status_code
            == 302
        )
        assert level(ply) == 9

    @pytest.mark.parametrize("seen", ["", "x", "1e5", "--1", "9" * 30, "NaN"])
    def test_a_page_that_says_nothing_of_it_is_taken_as_it_is(self, at_bench, seen):
        typed = {"quantity": "4", "note": "found", "seen": seen, "seen_lot": ""}
        ply = make.make_sheet()
        assert at_bench.post(url_of("count", ply), typed).status_code == 302
        assert level(ply) == 4


class TestWho:
    def test_makers_take_back_what_is_theirs_alone(self, at_bench, office, maker):
        ply = make.make_sheet()
        theirs, own = make_move(ply, 5, by=office), make_move(ply, -2, by=maker)
        page = soup(at_bench.get(ply.get_absolute_url()))
        forms = {form["action"] for form in page.select("#moves form")}
        urls = [reverse("shop:stock-undo", args=[m.pk]) for m in (theirs, own)]
        assert forms == {urls[1]}
        assert [at_bench.post(url).status_code for url in urls] == [403, 302]

    def test_taking_back_twice_is_refused_politely(self, browser, office):
        move = make_move(make.make_sheet(), 5, by=office)
        undo_move(move, by=office, at=AT)
        url = reverse("shop:stock-undo", args=[move.pk])
        assert browser.get(url).status_code == 405
        page = soup(browser.post(url, follow=True))
        assert f"taken back already, by {office}." in text(page.find(id="messages"))

    def test_each_page_asks_who_it_is(self, client, client_as, maker, fitter, shop):
        ply = make.make_sheet()
        piece = make_piece(ply, by=maker)
        pages = [url_of(what, ply) for what in WHAT]
        pages += [reverse("shop:pieces"), reverse("shop:stocktake")]
        pages += [reverse("shop:piece-keep", args=[ply.pk])]
        pages += [reverse("shop:piece-label", args=[piece.pk])]
        turns = [
            reverse(f"shop:piece-{t}", args=[piece.pk])
            for t in ("use", "throw", "find")
        ]
        forbidden, outside = client_as(fitter), [client.get(p) for p in pages]
        assert {r.status_code for r in outside} == {302}
        assert {forbidden.get(page).status_code for page in pages} == {403}
        assert {forbidden.post(turn).status_code for turn in turns} == {403}
        assert client_as(maker).get(url_of("in", ply)).status_code == 403

    def test_no_cost_for_makers(self, at_bench, office):
        ply = make.make_sheet(pack_price=None)
        browser_move = make_move(ply, 5, by=office)
        StockMove.objects.create(
            material=ply,
            quantity=1,
            why="delivered",
            unit_cost=D("7777.77"),
            at=AT,
            by=office,
        )
        page = text(soup(at_bench.get(ply.get_absolute_url())).main)
        assert browser_move.get_why_display() in page
        assert "7,777" not in page
        assert "Cost of one" not in page
