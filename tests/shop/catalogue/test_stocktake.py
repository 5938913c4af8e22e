"""A walk along the shelf: one box for each thing, one reason for what differs."""

from decimal import Decimal as D

import pytest
from django.urls import reverse

from shop.catalogue.models import StockLevel, StockMove
from tests.factories import catalogue as make
from tests.factories.stock import make_move
from tests.pages import grows, refused, soup, text

pytestmark = pytest.mark.django_db

SHELF = "/stores/stocktake/"


def level(material, lot=""):
    return StockLevel.objects.get(material=material, lot=lot).quantity


def boxes(page):
    """Give the name of each box by what its label says, and what the page has seen."""
    names = {
        text(label): label["for"].removeprefix("id_")
        for label in page.select(".slip > label")
    }
    seen = {box["name"]: box["value"] for box in page.select("[name^=seen-]")}
    return names, seen


@pytest.fixture
def browser(client_as, maker, shop):
    return client_as(maker)


def test_what_differs_is_set_and_what_is_left_empty_stays(browser, office):
    ply, thick, thin = (
        make.make_sheet(name=n, code=n) for n in ("ply", "thick", "thin")
    )
    for sheet in (ply, thick, thin):
        make_move(sheet, 5, by=office)
    names, seen = boxes(soup(browser.get(SHELF, {"kind": "sheet"})))
    typed = {names["ply ply"]: "3", names["thick thick"]: "5", "note": "monthly"}
    response = browser.post(f"{SHELF}?kind=sheet", typed | seen, follow=True)
    said = text(soup(response).find(id="messages"))
    assert "2 things counted. Set to what was counted: ply." in said
    assert [level(sheet) for sheet in (ply, thick, thin)] == [3, 5, 5]
    assert StockMove.objects.filter(why="counted").get().note == "monthly"


def test_a_fabric_has_a_box_for_each_dye_lot(browser, office):
    cloth = make.make_fabric(name="Cloth", code="c")
    for lot in ("B", "A"):
        make_move(cloth, "7.5", lot=lot, by=office)
    names, seen = boxes(soup(browser.get(SHELF, {"kind": "fabric"})))
    assert list(names) == ["Cloth c , lot A", "Cloth c , lot B"]
    typed = {names["Cloth c , lot B"]: "6.25", "note": "measured"}
    browser.post(f"{SHELF}?kind=fabric", typed | seen)
    assert (level(cloth, "A"), level(cloth, "B")) == (D("7.5"), D("6.25"))


def test_one_reason_is_wanted_and_nothing_is_stored_without(browser, office):
    ply, thin = make.make_sheet(), make.make_sheet()
    make_move(ply, 5, by=office)
    names, seen = boxes(soup(browser.get(SHELF)))
    typed = dict(zip(names.values(), ("4", "0"), strict=True)) | {"note": ""}
    refused(browser, SHELF, typed | seen, "note")
    assert StockMove.objects.count() == 1
    assert not StockLevel.objects.filter(material=thin).exists()


@pytest.mark.parametrize("wrong", ["x", "-1", "2.5", "1e3", "99999999"])
def test_a_wrong_number_is_told_beside_its_box_and_all_is_kept(browser, wrong):
    make.make_sheet()
    make.make_sheet()
    names, seen = boxes(soup(browser.get(SHELF)))
    first, second = names.values()
    typed = {first: wrong, second: "7", "note": "monthly"}
    refused(browser, SHELF, typed | seen, first)
    assert not StockMove.objects.exists()


def test_what_moved_meanwhile_is_counted_again(browser, office):
    ply, thin = make.make_sheet(), make.make_sheet()
    make_move(ply, 5, by=office)
    names, seen = boxes(soup(browser.get(SHELF)))
    typed = dict.fromkeys(names.values(), "3") | {"note": "monthly"}
    make_move(ply, -1, by=office)
    page = soup(browser.post(SHELF, typed | seen))
    field = page.select_one(f"#id_count-{ply.pk.hex}_field")
    assert "was 5 sheets, and should be 4 sheets now" in text(field.ul)
    assert [box["value"] for box in page.select(".slip input.input")] == ["3", "3"]
    assert StockMove.objects.count() == 2
    _, seen = boxes(page)
    assert browser.post(SHELF, typed | seen).status_code == 302
    assert (level(ply), level(thin)) == (3, 3)


def test_what_was_typed_outlives_what_others_did_meanwhile(browser, office):
    cloth, gone = make.make_fabric(name="Cloth"), make.make_fabric(name="Gone")
    names, seen = boxes(soup(browser.get(SHELF, {"kind": "fabric"})))
    make_move(cloth, 4, lot="A", by=office)  # now there is a lot, and no box without
    gone.archived_at = "2026-03-02T09:00Z"
    gone.save()
    typed = dict(zip(names.values(), ("3", "2"), strict=True)) | {"note": "monthly"}
    assert browser.post(f"{SHELF}?kind=fabric", typed | seen).status_code == 302
    assert (level(cloth), level(cloth, "A"), level(gone)) == (3, 4, 2)


def test_nothing_typed_is_nothing_counted(browser):
    make.make_sheet()
    page = browser.post(SHELF, {"note": "", "count-nonsense": "4"}, follow=True)
    assert "nothing was counted" in text(soup(page).find(id="messages"))
    assert not StockMove.objects.exists()


def test_all_as_it_should_be_is_said(browser, office):
    ply = make.make_sheet()
    make_move(ply, 5, by=office)
    page = browser.post(SHELF, {f"count-{ply.pk.hex}": "5"}, follow=True)
    said = text(soup(page).find(id="messages"))
    assert "1 thing counted: all as they should be." in said


def test_an_empty_shelf_says_so_and_an_unknown_kind_is_the_first(browser):
    page = soup(browser.get(SHELF, {"kind": "lead"}))
    assert "Nothing of this kind" in text(page.main)
    assert text(page.select_one("[aria-current=true]")) == "Sheet"


def test_below_nothing_stands_out(browser, office):
    make_move(make.make_sheet(), -2, by=office)
    slip = soup(browser.get(SHELF)).select_one(".slip--late")
    assert "should be −2 sheets: below nothing, so count it" in text(slip)


def test_queries_do_not_grow(browser, office):
    def one():
        make_move(make.make_fabric(), 3, lot="A", by=office)

    assert grows(browser, f"{reverse('shop:stocktake')}?kind=fabric", one) == 0
