"""The stores' list and pages: what they show, and to whom."""

from decimal import Decimal

import pytest
from django.urls import reverse

from shop.catalogue.models import Material, MaterialKind
from tests.cast import AS_HTMX
from tests.factories import catalogue as make
from tests.pages import grows, soup, text

LIST = "/stores/"


@pytest.fixture
def browser(client_as, office, shop):
    return client_as(office)


def _names(page):
    return [text(a) for a in page.select("#materials th a")]


def test_empty_stores_say_what_to_start_with(browser):
    page = soup(browser.get(LIST))
    assert "The stores are empty" in text(page.main)
    assert page.select_one(f'#materials a[href="{reverse("shop:material-new")}"]')


def test_the_list_shows_size_and_price_of_each(browser):
    make.make_sheet(name="Birch ply")
    make.make_fabric(name="Open weave")
    rows = [text(tr) for tr in soup(browser.get(LIST)).select("tbody tr")]
    assert "1520 mm wide" in rows[0]
    assert "€18.00" in rows[0]
    assert "2440 × 1220 × 14.6 mm" in rows[1]
    assert "€48.00" in rows[1]


@pytest.mark.parametrize(
    ("query", "names"),
    [
        ({"kind": "fabric"}, ["Open weave"]),
        ({"q": "birch"}, ["Birch ply"]),
        ({"q": "ply-15"}, ["Birch ply"]),
        ({"q": "lindyard"}, ["Open weave"]),
        ({"q": "birch", "kind": "fabric"}, []),
        ({"kind": "lead"}, ["Open weave", "Birch ply"]),
        ({"q": "x\0"}, []),
    ],
)
def test_kind_and_words_narrow_the_list(browser, query, names):
    make.make_sheet(name="Birch ply", code="ply-15")
    yard = make.make_supplier(name="Lindyard")
    make.make_fabric(name="Open weave", supplier=yard)
    assert _names(soup(browser.get(LIST, query))) == names


def test_htmx_gets_the_list_alone(browser):
    make.make_sheet()
    page = soup(browser.get(LIST, {"q": "sheet"}, headers=AS_HTMX))
    assert page.html is None
    assert page.find(id="materials")


def test_queries_do_not_grow_with_materials(browser):
    def one():
        make.make_fabric(supplier=make.make_supplier())

    assert grows(browser, LIST, one) == 0
    assert grows(browser, reverse("shop:suppliers"), make.make_supplier) == 0
    assert grows(browser, reverse("shop:operations"), make.make_operation) == 0


@pytest.mark.parametrize("who", ["maker", "fitter"])
def test_no_price_is_shown_to_makers_and_fitters(request, client_as, shop, who):
    browser = client_as(request.getfixturevalue(who))
    sheet = make.make_sheet(pack_price=Decimal("7777.77"), pack_quantity=Decimal(1))
    make.make_operation(hourly_rate="7777.77")
    for url in (LIST, sheet.get_absolute_url(), reverse("shop:operations")):
        page = browser.get(url)
        assert page.status_code == 200
        assert "7,777" not in text(soup(page).main)


@pytest.mark.parametrize("who", ["maker", "fitter"])
def test_makers_and_fitters_change_nothing(request, client_as, shop, who):
    browser = client_as(request.getfixturevalue(who))
    sheet, work, yard = make.make_sheet(), make.make_operation(), make.make_supplier()
    for name, row in (("material", sheet), ("operation", work), ("supplier", yard)):
        assert browser.get(reverse(f"shop:{name}-new")).status_code == 403
        change = reverse(f"shop:{name}-change", args=[row.pk])
        assert browser.get(change).status_code == 403
        archive = reverse(f"shop:{name}-archive", args=[row.pk])
        assert browser.post(archive).status_code == 403


def test_a_price_opens_to_how_it_came(browser):
    eyes = make.make_hardware(pack_price=Decimal("22.00"), pack_quantity=Decimal(100))
    page = text(soup(browser.get(eyes.get_absolute_url())).main)
    assert "Price of one piece €0.22 €22.00 ÷ 100 = €0.22" in page


def test_a_sheet_has_a_price_for_a_square_metre(browser):
    sheet = make.make_sheet(pack_price=Decimal("59.536"))  # 2.44 × 1.22 m = 2.9768 m²
    page = text(soup(browser.get(sheet.get_absolute_url())).main)
    assert "÷ 2.977 m² = €20.00" in page


def test_small_things_keep_four_decimals(browser):
    staples = make.make_consumable()
    assert "0.0018 EUR" in text(soup(browser.get(staples.get_absolute_url())).main)


def test_unrated_hardware_says_that_nothing_is_cleared(browser):
    eye = make.make_hardware()
    assert "Unrated" in text(
        soup(browser.get(eye.get_absolute_url())).find(class_="caution")
    )
    eye.rated_load_n, eye.rating_source = 490.3325, "stamped on the eye"
    eye.save()
    page = soup(browser.get(eye.get_absolute_url()))
    assert not page.select(".caution")
    assert "490.33 N, stamped on the eye" in text(page.main)


@pytest.mark.parametrize("name", ["material", "operation", "supplier"])
def test_putting_aside_is_undone_from_the_message(browser, name):
    row = {
        "material": make.make_sheet,
        "operation": make.make_operation,
        "supplier": make.make_supplier,
    }[name]()
    url = reverse(f"shop:{name}-archive", args=[row.pk])
    assert browser.get(url).status_code == 405
    page = soup(browser.post(url, follow=True))
    row.refresh_from_db()
    assert row.is_archived
    browser.post(page.select_one("#messages form")["action"])
    row.refresh_from_db()
    assert not row.is_archived


def test_what_was_put_aside_is_listed_apart(browser):
    make.make_sheet(name="Old ply", archived_at="2026-03-02T09:00Z")
    assert _names(soup(browser.get(LIST))) == []
    assert _names(soup(browser.get(LIST, {"aside": "1"}))) == ["Old ply"]
    assert _names(soup(browser.get(LIST, {"q": "old"}))) == ["Old ply"]


def test_a_stale_or_foreign_address_is_not_found(browser, office):
    gone = make.make_sheet()
    url = gone.get_absolute_url()
    Material.objects.all().delete()
    assert browser.get(url).status_code == 404
    for name in ("material", "material-change", "material-copy", "supplier-change"):
        assert browser.get(reverse(f"shop:{name}", args=[office.pk])).status_code == 404


def test_a_visitor_is_sent_to_sign_in(client, db):
    assert client.get(LIST)["Location"].startswith("/accounts/login/")


def test_the_shops_units_hold_for_everything_measured(client_as, office, shop):
    shop.unit_system, shop.locale, shop.currency = "imperial", "en_US", "USD"
    shop.save()
    sheet = make.make_sheet(density_kg_m3=620.0)
    page = text(soup(client_as(office).get(sheet.get_absolute_url())).main)
    assert "38.71 lb/ft³" in page
    assert "Price of one ft²" in page


def test_every_kind_has_a_form(browser):
    for kind in MaterialKind.values:
        page = soup(browser.get(reverse("shop:material-new"), {"kind": kind}))
        assert page.find(id="id_name")
