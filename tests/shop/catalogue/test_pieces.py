"""Offcuts by number: kept, used, thrown away, found again, and their page and labels."""

from decimal import Decimal as D
from io import BytesIO

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse
from pypdf import PdfReader

from shared.audit.models import Entry
from shared.records import LedgerIsAppendOnlyError
from shop.catalogue.actions import StockError, find_piece, throw_piece, use_piece
from shop.catalogue.models import PieceChange, StockPiece
from tests.cast import AS_HTMX
from tests.factories import catalogue as make
from tests.factories.stock import AT, make_piece
from tests.pages import BAD_TEXTS, refused, soup, text

pytestmark = pytest.mark.django_db

PIECES = "/stores/pieces/"
TURNS = {"use": use_piece, "throw": throw_piece, "find": find_piece}


def words_of_pdf(response):
    assert response["Content-Type"] == "application/pdf"
    pages = PdfReader(BytesIO(response.content)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def codes(response):
    return [text(code) for code in soup(response).select(".lot strong.code")]


def keep_url(material):
    return reverse("shop:piece-keep", args=[material.pk])


@pytest.fixture
def browser(client_as, maker, shop):
    return client_as(maker)


class TestActions:
    def test_numbers_go_up_over_all_materials_and_are_never_given_twice(self, maker):
        first = make_piece(make.make_sheet(), by=maker)
        throw_piece(first, by=maker, at=AT)
        second = make_piece(make.make_fabric(), by=maker)
        assert (first.code, second.code) == ("K1", "K2")

    @pytest.mark.parametrize(
        ("done", "then", "said"),
        [
            (("use",), "use", "K1 is used already, by Mina"),
            (("throw",), "use", "K1 is thrown away already, by Mina"),
            (("use",), "throw", "K1 is used already, by Mina"),
            ((), "find", "K1 is kept already, by Mina"),
        ],
    )
    def test_a_piece_that_is_not_as_expected_stays_as_it_is(
        self, maker, done, then, said
    ):
        piece = make_piece(make.make_sheet(), by=maker)
        for step in done:
            TURNS[step](piece, by=maker, at=AT)
        stale = StockPiece.objects.get()
        stale.state = "gone" if then == "find" else "kept"
        before = piece.state, PieceChange.objects.count(), Entry.objects.count()
        with pytest.raises(StockError, match=said):
            TURNS[then](stale, by=maker, at=AT)
        piece.refresh_from_db()
        now = piece.state, PieceChange.objects.count(), Entry.objects.count()
        assert now == before

    def test_each_turn_is_written_down(self, maker, office):
        piece = make_piece(make.make_sheet(), by=maker)
        use_piece(piece, note="job J7", by=maker, at=AT)
        find_piece(piece, by=office, at=AT)
        throw_piece(piece, by=office, at=AT)
        turns = piece.changes.order_by("created_at").values_list("was", "now", "note")
        assert list(turns) == [
            ("", "kept", ""),
            ("kept", "used", "job J7"),
            ("used", "kept", ""),
            ("kept", "gone", ""),
        ]
        with pytest.raises(LedgerIsAppendOnlyError):
            PieceChange.objects.update(now="kept")

    def test_what_is_counted_is_not_kept_in_pieces(self, maker):
        with pytest.raises(StockError, match="Only sheets, boards"):
            make_piece(make.make_hardware(), by=maker)
        assert not StockPiece.objects.exists()

    @pytest.mark.parametrize("size", [(0, 400), (400, 0), (-5, 400)])
    def test_a_piece_has_a_size(self, maker, size):
        with pytest.raises(StockError, match="a length and a width"):
            make_piece(make.make_sheet(), *size, by=maker)

    @pytest.mark.parametrize(
        ("name", "wrong"),
        [
            ("size_positive", {"width_ticks": 0}),
            ("state_known", {"state": "lost"}),
            ("number", {"number": 1}),
        ],
    )
    def test_the_database_refuses_a_wrong_piece(self, maker, name, wrong):
        piece = make_piece(make.make_sheet(), by=maker)
        right = {"number": 2, "length_ticks": 5, "width_ticks": 5}
        with pytest.raises(IntegrityError, match=name), transaction.atomic():
            StockPiece.objects.create(material=piece.material, **right | wrong)


class TestKeeping:
    def test_it_is_told_what_to_write_on_it(self, browser):
        ply = make.make_sheet(name="Birch ply")
        typed = {"length": "91 cm", "width": "455", "note": "rack by the saw"}
        page = soup(browser.post(keep_url(ply), typed, follow=True))
        piece = StockPiece.objects.get()
        assert (piece.length_text, piece.width_text) == ("91 cm", "455")
        assert piece.length_ticks == make.mm(910)
        message = page.select_one("#messages .message")
        assert "Write K1 on it: 910 × 455 mm of Birch ply." in text(message)
        browser.post(message.form["action"])
        piece.refresh_from_db()
        assert piece.state == "gone"

    @pytest.mark.parametrize(
        ("wrong", "field"),
        [
            ({"length": ""}, "length"),
            ({"length": "abc"}, "length"),
            ({"length": "-5"}, "length"),
            ({"width": "0"}, "width"),
            ({"width": "1e9"}, "width"),
            ({"length": "999999999999"}, "length"),
            ({"length": "2600"}, "length"),  # a whole one has 2440
            ({"width": "1300", "length": "1300"}, "length"),
            ({"note": "x" * 201}, "note"),
            *[({"note": bad}, "note") for bad in BAD_TEXTS],
        ],
    )
    def test_what_can_not_be_is_refused(self, browser, wrong, field):
        typed = {"length": "900", "width": "400", "note": "rack"} | wrong
        refused(browser, keep_url(make.make_sheet()), typed, field)
        assert not StockPiece.objects.exists()

    def test_a_remnant_may_be_as_long_as_the_roll_and_no_wider(self, browser):
        cloth = make.make_fabric()
        typed = {"length": "21 m", "width": "1520", "lot": "H 7"}
        assert browser.post(keep_url(cloth), typed).status_code == 302
        assert StockPiece.objects.get().lot == "H 7"
        refused(browser, keep_url(cloth), typed | {"width": "1600"}, "width")

    def test_hardware_has_no_such_page(self, browser):
        assert browser.get(keep_url(make.make_hardware())).status_code == 404

    def test_a_board_has_its_width_already(self, browser):
        page = soup(browser.get(keep_url(make.make_board())))
        assert page.select_one("[name=width]")["value"] == "44 mm"


class TestPage:
    def test_with_none_it_says_where_to_begin(self, browser):
        page = soup(browser.get(PIECES))
        assert "No piece is kept" in text(page.main)

    def test_a_number_finds_its_piece_in_any_state(self, browser, maker):
        ply = make.make_sheet()
        first, second = make_piece(ply, by=maker), make_piece(ply, by=maker)
        use_piece(first, by=maker, at=AT)
        assert codes(browser.get(PIECES)) == ["K2"]
        for typed in ("K1", "k 1", " 1 "):
            page = browser.get(PIECES, {"q": typed})
            assert codes(page) == ["K1"]
        find = reverse("shop:piece-find", args=[first.pk])
        assert soup(page).select_one(f'form[action="{find}"]')
        assert codes(browser.get(PIECES, {"q": second.code})) == ["K2"]
        assert "No such piece" in text(soup(browser.get(PIECES, {"q": "K99"})).main)

    @pytest.mark.parametrize(
        ("size", "found"),
        [
            ({"length": "900", "width": "400"}, ["K1", "K2"]),
            ({"length": "400", "width": "900"}, ["K1", "K2"]),
            ({"length": "901"}, ["K2"]),
            ({"width": "500"}, ["K1", "K2"]),
            ({"length": "1300"}, []),
        ],
    )
    def test_a_size_finds_what_is_as_large_either_way_round(
        self, browser, maker, size, found
    ):
        ply = make.make_sheet()
        make_piece(ply, 900, 400, by=maker)
        make_piece(ply, 1200, 600, by=maker)
        make_piece(ply, 300, 300, by=maker)
        assert codes(browser.get(PIECES, size)) == found

    def test_what_fits_only_when_turned_says_so(self, browser, maker):
        make_piece(make.make_sheet(), 900, 400, by=maker)
        page = soup(browser.get(PIECES, {"length": "350", "width": "800"}))
        assert "only turned" in text(page.select_one(".lot"))

    @pytest.mark.parametrize(
        ("typed", "field"),
        [
            ({"q": "foo"}, "q"),
            ({"q": "K\0"}, "q"),
            ({"q": "K" + "9" * 12}, "q"),
            ({"length": "wide"}, "length"),
            ({"width": "-1"}, "width"),
        ],
    )
    def test_what_does_not_read_is_said_beside_its_box(self, browser, typed, field):
        response = browser.get(PIECES, typed)
        assert response.status_code == 422
        assert text(soup(response).select_one(f"#id_{field}_field .errorlist"))

    def test_htmx_gets_the_list_alone(self, browser):
        page = soup(browser.get(PIECES, headers=AS_HTMX))
        assert page.html is None
        assert page.find(id="pieces-found")

    def test_each_is_drawn_to_scale_within_a_whole_one(self, browser, maker):
        make_piece(make.make_sheet(), 1220, 610, by=maker)
        whole, piece = soup(browser.get(PIECES)).select(".thumb svg g rect")[-2:]
        ratio = [float(piece[s]) / float(whole[s]) for s in ("width", "height")]
        assert ratio == pytest.approx([0.5, 0.5], rel=0.01)

    def test_turns_are_told_with_a_way_back(self, browser, maker):
        piece = make_piece(make.make_sheet(), by=maker)
        for turn, state, back in (
            ("throw", "gone", "kept"),
            ("use", "used", "kept"),
        ):
            url = reverse(f"shop:piece-{turn}", args=[piece.pk])
            assert browser.get(url).status_code == 405
            page = soup(browser.post(url, follow=True))
            piece.refresh_from_db()
            assert piece.state == state
            browser.post(page.select_one("#messages form")["action"])
            piece.refresh_from_db()
            assert piece.state == back

    def test_a_turn_that_somebody_else_took_is_refused_politely(
        self, browser, maker, office
    ):
        piece = make_piece(make.make_sheet(), by=maker)
        use_piece(piece, by=office, at=AT)
        url = reverse("shop:piece-throw", args=[piece.pk])
        page = soup(browser.post(url, follow=True))
        assert f"K1 is used already, by {office}." in text(page.find(id="messages"))

    def test_labels_are_printed_for_one_and_for_all(self, browser, maker):
        ply = make.make_sheet(name="Birch ply")
        one = make_piece(ply, 900, 400, by=maker)
        make_piece(ply, 640, 298, by=maker)
        label = words_of_pdf(browser.get(reverse("shop:piece-label", args=[one.pk])))
        assert "K1" in label
        assert "900 × 400 mm" in label
        assert "Birch ply" in label
        assert "K2" not in label
        labels = reverse("shop:piece-labels", args=[ply.pk])
        assert "K2" in words_of_pdf(browser.get(labels))
        empty = reverse("shop:piece-labels", args=[make.make_sheet().pk])
        assert browser.get(empty).status_code == 404


def test_queries_do_not_grow_with_pieces(client_as, owner, shop, count_queries):
    browser = client_as(owner)
    ply = make.make_sheet()
    urls = (PIECES, ply.get_absolute_url())
    for _ in range(2):
        make_piece(ply, by=owner)
    for url in urls:
        browser.get(url)
    few = [count_queries(lambda u=url: browser.get(u)) for url in urls]
    for _ in range(8):
        make_piece(ply, by=owner)
        make_piece(make.make_fabric(pack_price=D(9)), by=owner)
    assert [count_queries(lambda u=url: browser.get(u)) for url in urls] == few
