"""What materials cost, and what they cost before: who said so, and who may see it."""

from decimal import Decimal as D

import pytest
from django.urls import reverse

from shared.audit.models import Entry
from shared.records import LedgerIsAppendOnlyError
from shop.catalogue.actions import StockError, add, change, change_price
from shop.catalogue.models import Material, PriceChange
from tests.factories import catalogue as make
from tests.factories.stock import AT
from tests.pages import soup, text

pytestmark = pytest.mark.django_db


def history(material):
    rows = PriceChange.objects.filter(material=material).order_by("created_at")
    return list(rows.values_list("was", "now", "pack_was", "pack_now", "source"))


def test_a_change_is_stored_with_what_it_was(office):
    ply = make.make_sheet(pack_price=D("48.00"))
    changed = change_price(ply, D("52.5"), D(2), "order B-1", by=office, at=AT)
    assert changed.by == office
    ply.refresh_from_db()
    assert (ply.pack_price, ply.pack_quantity) == (D("52.5"), 2)
    assert history(ply) == [(D(48), D("52.5"), 1, 2, "order B-1")]
    assert Entry.objects.get().text == "Price changed: order B-1"


@pytest.mark.parametrize(
    ("price", "pack", "said"),
    [
        (D(-1), D(1), "can't be negative"),
        (D(1), D(0), "more than nothing"),
        (D("1.23456"), D(1), "4 decimal"),
        (D("1e12"), D(1), "digits"),
    ],
)
def test_what_no_material_may_cost_is_refused(office, price, pack, said):
    ply = make.make_sheet()
    with pytest.raises(StockError, match=said):
        change_price(ply, price, pack, "a list", by=office, at=AT)
    ply.refresh_from_db()
    assert ply.pack_price == 48
    assert history(ply) == []


def test_a_price_wants_its_source(office):
    with pytest.raises(StockError):
        change_price(make.make_sheet(), D(1), D(1), "", by=office, at=AT)
    assert not PriceChange.objects.exists()


def test_the_same_price_is_no_change(office):
    ply = make.make_sheet(pack_price=D("48.00"))
    assert change_price(ply, D(48), D(1), "a list", by=office, at=AT) is None
    assert history(ply) == []


def test_a_price_taken_away_and_named_again_is_told(office):
    ply = make.make_sheet()
    change_price(ply, None, D(1), "no longer made", by=office, at=AT)
    change_price(ply, None, D(5), "no longer made", by=office, at=AT)  # no price of it
    change_price(ply, D(50), D(5), "a list", by=office, at=AT)
    assert [(was, now) for was, now, *_ in history(ply)] == [(48, None), (None, 50)]


def test_history_is_not_changed(office):
    change_price(make.make_sheet(), D(1), D(1), "a list", by=office, at=AT)
    with pytest.raises(LedgerIsAppendOnlyError):
        PriceChange.objects.update(now=2)


def test_adding_and_changing_a_material_write_the_history(office):
    new = Material(kind="hardware", code="eye", name="Eye", pack_price=D(3))
    add(new, by=office, at=AT)
    new.name = "Eye bolt"
    change(new, by=office, at=AT)
    new.pack_price = D(4)
    change(new, by=office, at=AT, source="read from a list")
    assert [(was, now, said) for was, now, _, _, said in history(new)] == [
        (None, 3, "typed on its page"),
        (3, 4, "read from a list"),
    ]


def test_one_without_a_price_begins_no_history(office):
    free = add(Material(kind="hardware", code="eye", name="Eye"), by=office, at=AT)
    assert history(free) == []


def test_the_form_of_a_material_writes_it_and_its_page_shows_it(
    client_as, office, shop
):
    browser = client_as(office)
    eyes = make.make_hardware(pack_price=D("22.00"), pack_quantity=D(100))
    url = reverse("shop:material-change", args=[eyes.pk])
    form = soup(browser.get(url)).select_one("#material-form form")
    typed = {box["name"]: box.get("value", "") for box in form.select("input[name]")}
    typed |= {"unit": "each", "pack_price": "24.50"}
    assert browser.post(url, typed).status_code == 302
    page = text(soup(browser.get(eyes.get_absolute_url())).main)
    assert "€24.50 for 100 × piece, before €22.00" in page


@pytest.mark.parametrize("who", ["maker", "fitter"])
def test_no_history_of_prices_for_those_who_see_no_money(request, client_as, shop, who):
    person = request.getfixturevalue(who)
    ply = make.make_sheet()
    change_price(ply, D("7777.77"), D(1), "a list", by=person, at=AT)
    page = text(soup(client_as(person).get(ply.get_absolute_url())).main)
    assert "What it cost" not in page
    assert "7,777" not in page
