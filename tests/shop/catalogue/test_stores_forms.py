"""Forms of the stores: only what a kind has, and what is refused."""

from decimal import Decimal

import pytest
from django.db import DataError, IntegrityError, transaction
from django.urls import reverse

from shared.length import TICKS_PER_MM
from shared.models import Entry
from shop.catalogue.models import Material, Operation, Supplier
from tests.cast import AS_HTMX
from tests.factories import catalogue as make
from tests.pages import BAD_TEXTS, refused, shown, soup, text

NEW = "/stores/materials/new/"
FIRST = {"name": "Birch ply", "code": "ply-15", "supplier": "", "supplier_code": ""}
PACK = {"pack_quantity": "1", "pack_price": "48"}
FIRE = {"fire_class": "", "fire_papers": ""}
SHEET = (
    FIRST
    | PACK
    | FIRE
    | {
        "kind": "sheet",
        "thickness_ticks": "14.6",
        "width_ticks": "1220",
        "length_ticks": "2.44 m",
        "density_kg_m3": "620",
        "mass_g_m2": "",
    }
)
FABRIC = (
    FIRST
    | PACK
    | FIRE
    | {
        "kind": "fabric",
        "name": "Open weave",
        "code": "weave-3",
        "colour": "moss",
        "width_ticks": "1520",
        "selvedge_ticks": "10",
        "mass_g_m2": "310",
        "repeat_ticks": "",
        "pack_quantity": "50",
    }
)
EYE = FIRST | {
    "kind": "hardware",
    "name": "Eye bolt M8",
    "code": "eye-8",
    "unit": "each",
    "pack_quantity": "100",
    "pack_price": "0.2234",
    "mass_g_each": "18",
    "rated_load_n": "50 kg",
    "rating_source": "stamped on the eye",
}


@pytest.fixture
def browser(client_as, office, shop):
    return client_as(office)


def test_a_new_material_is_asked_its_kind_first(browser):
    page = soup(browser.get(NEW))
    assert len(page.select(".slips a")) == 6
    assert soup(browser.get(NEW, {"kind": "lead"})).select(".slips a")


@pytest.mark.parametrize(
    ("kind", "has", "lacks"),
    [
        ("sheet", "thickness_ticks", "selvedge_ticks"),
        ("board", "density_kg_m3", "colour"),
        ("fill", "flow_resistivity", "rated_load_n"),
        ("fabric", "selvedge_ticks", "thickness_ticks"),
        ("hardware", "rated_load_n", "width_ticks"),
        ("consumable", "unit", "fire_class"),
    ],
)
def test_a_kind_is_asked_only_what_it_has(browser, kind, has, lacks):
    page = soup(browser.get(NEW, {"kind": kind}))
    assert page.find(id=f"id_{has}")
    assert not page.find(id=f"id_{lacks}")


def test_another_kind_keeps_what_was_typed(browser):
    asked = {"kind": "board", "name": "Pine 18 × 44", "thickness_ticks": "18,3 mm"}
    page = soup(browser.get(NEW, asked, headers=AS_HTMX))
    assert page.html is None
    assert page.find(id="material-form")
    assert shown(page, "name") == "Pine 18 × 44"
    assert shown(page, "thickness_ticks") == "18,3 mm"


def test_a_sheet_is_stored_as_the_tape_says(browser, office):
    response = browser.post(NEW, SHEET, follow=True)
    sheet = Material.objects.get()
    assert response.redirect_chain[-1][0] == sheet.get_absolute_url()
    assert sheet.thickness_ticks == 4672  # 14.6 mm
    assert sheet.length_ticks == 2440 * TICKS_PER_MM
    assert sheet.density_kg_m3 == 620
    assert Entry.objects.about("material", sheet.pk).get().by == office


def test_an_eye_keeps_its_rating_in_newtons_with_its_source(browser):
    browser.post(NEW, EYE)
    eye = Material.objects.get()
    assert eye.rated_load_n == pytest.approx(490.3325)
    assert eye.rating_source == "stamped on the eye"
    assert eye.pack_price == Decimal("0.2234")


BAD_SHEETS = [
    ("name", ""),
    ("name", "n" * 121),
    *(("name", bad) for bad in BAD_TEXTS),
    ("code", ""),
    ("code", "two words"),
    ("code", "c" * 41),
    ("supplier", "not-an-id"),
    ("supplier", "8f14e45f-ceea-467f-9f31-000000000000"),
    ("supplier_code", "s" * 61),
    ("thickness_ticks", ""),
    ("thickness_ticks", "thin"),
    ("thickness_ticks", "0"),
    ("thickness_ticks", "-15"),
    ("thickness_ticks", "1.5 m"),
    ("width_ticks", "99999999999"),
    ("width_ticks", "25 m"),
    ("length_ticks", "1,250.5"),
    ("density_kg_m3", ""),
    ("density_kg_m3", "heavy"),
    ("density_kg_m3", "-1"),
    ("density_kg_m3", "0"),
    ("density_kg_m3", "99999999999"),
    ("density_kg_m3", "nan"),
    ("mass_g_m2", "0"),
    ("pack_quantity", ""),
    ("pack_quantity", "0"),
    ("pack_quantity", "-1"),
    ("pack_quantity", "some"),
    ("pack_quantity", "99999999"),
    ("pack_price", "cheap"),
    ("pack_price", "-1"),
    ("pack_price", "1,250"),
    ("pack_price", "99999999999"),
    ("fire_class", "Z"),
    ("fire_papers", "p" * 201),
]


@pytest.mark.parametrize(("field", "value"), BAD_SHEETS)
def test_a_bad_sheet_is_refused_beside_its_field(browser, field, value):
    refused(browser, NEW, SHEET | {field: value}, field)
    assert not Material.objects.exists()


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("width_ticks", ""),
        ("mass_g_m2", ""),
        ("selvedge_ticks", "760"),
        ("selvedge_ticks", "-1"),
        ("repeat_ticks", "0"),
        ("colour", "c" * 41),
    ],
)
def test_a_bad_fabric_is_refused_beside_its_field(browser, field, value):
    refused(browser, NEW, FABRIC | {field: value}, field)
    assert not Material.objects.exists()


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("rated_load_n", "50"),
        ("rated_load_n", "strong"),
        ("rated_load_n", "50 bananas"),
        ("rated_load_n", "-50 kg"),
        ("rated_load_n", "0 N"),
        ("rating_source", ""),
        ("rating_source", "\u202e"),
        ("unit", "bucket"),
        ("mass_g_each", "-1"),
    ],
)
def test_bad_hardware_is_refused_beside_its_field(browser, field, value):
    refused(browser, NEW, EYE | {field: value}, field)
    assert not Material.objects.exists()


def test_a_code_is_given_once_whatever_its_case(browser):
    make.make_sheet(code="PLY-15")
    response = browser.post(NEW, SHEET)
    assert response.status_code == 422
    assert "already has this code" in text(soup(response).find(id="form-errors"))


def test_a_change_is_stored_and_the_kind_stays(browser):
    sheet = make.make_sheet()
    url = reverse("shop:material-change", args=[sheet.pk])
    browser.post(url, SHEET | {"kind": "fabric", "name": "Poplar ply"})
    sheet.refresh_from_db()
    assert (sheet.name, sheet.kind) == ("Poplar ply", "sheet")


def test_opening_and_storing_changes_nothing(browser):
    sheet = make.make_sheet(thickness_ticks=4673, density_kg_m3=612.3456)
    url = reverse("shop:material-change", args=[sheet.pk])
    page = soup(browser.get(url))
    names = [f for f in SHEET if f != "kind"]
    browser.post(url, {name: shown(page, name) or "" for name in names})
    again = Material.objects.get()
    assert (again.thickness_ticks, again.density_kg_m3) == (4673, 612.3456)
    assert again.name == sheet.name


def test_a_refused_change_leaves_the_heading_and_the_row(browser):
    sheet = make.make_sheet(name="Birch ply")
    url = reverse("shop:material-change", args=[sheet.pk])
    page = refused(browser, url, SHEET | {"name": "", "code": "x y"}, "name")
    assert "Change Birch ply" in text(page.h1)
    sheet.refresh_from_db()
    assert sheet.name == "Birch ply"


def test_another_like_it_needs_a_code_of_its_own(browser):
    moss = make.make_fabric(name="Open weave", colour="moss")
    url = reverse("shop:material-copy", args=[moss.pk])
    page = soup(browser.get(url))
    assert (shown(page, "name"), shown(page, "code")) == ("Open weave", "")
    browser.post(url, FABRIC | {"colour": "rust"})
    assert {m.colour for m in Material.objects.all()} == {"moss", "rust"}


def test_a_supplier_put_aside_is_offered_only_where_it_is_chosen(browser):
    gone = make.make_supplier(name="Gone", archived_at="2026-03-02T09:00Z")
    sheet = make.make_sheet(supplier=gone)
    change = reverse("shop:material-change", args=[sheet.pk])
    assert "Gone" in text(soup(browser.get(change)).find(id="id_supplier"))
    new = soup(browser.get(NEW, {"kind": "sheet"}))
    assert "Gone" not in text(new.find(id="id_supplier"))


SUPPLIER = {"name": "Lindyard", "phone": "", "email": "", "lead_days": "5"}
WORK = {
    "name": "Glue a joint",
    "code": "joint",
    "stage": "build",
    "driver": "joint",
    "minutes": "4.5",
    "hourly_rate": "48",
    "notes": "",
}


def test_suppliers_are_added_and_changed(browser):
    browser.post(reverse("shop:supplier-new"), SUPPLIER)
    yard = Supplier.objects.get()
    url = reverse("shop:supplier-change", args=[yard.pk])
    page = soup(browser.post(url, SUPPLIER | {"lead_days": "8"}, follow=True))
    assert "8" in text(page.select_one("tbody tr"))


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("name", ""),
        *(("name", bad) for bad in BAD_TEXTS),
        ("email", "yard at"),
        ("phone", "0" * 41),
        ("lead_days", ""),
        ("lead_days", "-1"),
        ("lead_days", "soon"),
        ("lead_days", "9999999999"),
    ],
)
def test_a_bad_supplier_is_refused_beside_its_field(browser, field, value):
    refused(browser, reverse("shop:supplier-new"), SUPPLIER | {field: value}, field)
    assert not Supplier.objects.exists()


def test_operations_are_added_and_changed(browser):
    browser.post(reverse("shop:operation-new"), WORK)
    work = Operation.objects.get()
    assert work.minutes == Decimal("4.5")
    url = reverse("shop:operation-change", args=[work.pk])
    page = soup(browser.post(url, WORK | {"hourly_rate": "52.50"}, follow=True))
    assert "€52.50" in text(page.select_one("tbody tr"))


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("name", ""),
        ("code", "a joint"),
        ("stage", "lunch"),
        ("driver", ""),
        ("minutes", ""),
        ("minutes", "long"),
        ("minutes", "-1"),
        ("minutes", "99999999"),
        ("hourly_rate", ""),
        ("hourly_rate", "-48"),
        ("hourly_rate", "9999999999"),
        ("notes", "n" * 201),
    ],
)
def test_a_bad_operation_is_refused_beside_its_field(browser, field, value):
    refused(browser, reverse("shop:operation-new"), WORK | {field: value}, field)
    assert not Operation.objects.exists()


def test_operations_are_listed_in_the_order_of_the_work(db):
    for stage in ("install", "build", "measure", "pack", "upholster"):
        make.make_operation(stage=stage)
    stages = [work.stage for work in Operation.objects.in_order()]
    assert stages == ["measure", "build", "upholster", "pack", "install"]


@pytest.mark.parametrize(
    "broken",
    [
        lambda: make.make_sheet(thickness_ticks=None),
        lambda: make.make_sheet(density_kg_m3=None),
        lambda: make.make_sheet(kind="lead"),
        lambda: make.make_sheet(pack_quantity=Decimal(0)),
        lambda: make.make_sheet(pack_price=Decimal(-1)),
        lambda: make.make_fabric(mass_g_m2=None),
        lambda: make.make_fabric(selvedge_ticks=make.mm(760)),
        lambda: make.make_hardware(rated_load_n=490.0),
        lambda: make.make_hardware(mass_g_each=-1.0),
        lambda: make.make_hardware(unit="bucket"),
        lambda: make.make_operation(minutes="-1"),
        lambda: make.make_operation(driver="luck"),
    ],
)
def test_the_database_holds_the_rules_by_itself(db, broken):
    # PostgreSQL takes a word that is too long for bad data.
    with pytest.raises((IntegrityError, DataError)), transaction.atomic():
        broken()
