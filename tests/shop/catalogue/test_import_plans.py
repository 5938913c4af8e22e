"""What a file of the stores would do: nothing if it is what was taken out."""

from contextlib import contextmanager
from dataclasses import replace
from decimal import Decimal

import pytest
from django.db import transaction
from django.utils import timezone
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shared.conventions import Conventions, using
from shared.length import UnitSystem
from shop.catalogue.engine import TableError, read_text
from shop.catalogue.forms import BOOKS, plan_import
from shop.catalogue.models import (
    Effect,
    FireClass,
    Material,
    MaterialKind,
    MaterialUnit,
    Supplier,
)
from tests.factories import catalogue as make
from tests.factories.catalogue import mm

IMPERIAL = Conventions(unit_system=UnitSystem.IMPERIAL, currency="USD", locale="en_US")
SHOPS = (
    Conventions(),
    IMPERIAL,
    Conventions(locale="de_DE"),
    Conventions(locale="fr_CH", currency="CHF"),
    Conventions(currency="KWD"),
)

WORDS = st.text(
    st.one_of(
        st.sampled_from("'=+-@\",; é½×"),
        st.characters(exclude_categories=["C", "Z", "M"], max_codepoint=0x2FFFF),
    ),
    min_size=1,
    max_size=20,
).filter(lambda text: text == text.strip() and text)
CODES = st.from_regex(r"[A-Za-z0-9_-]{1,12}", fullmatch=True)
TICKS = st.integers(1, 320_000)
MASSES = st.floats(1, 9999)


def amounts(places, low="0"):
    return st.decimals(Decimal(low), 9999, places=places)


def maybe(strategy):
    return st.none() | strategy


def materials(suppliers):
    """Materials as the database takes them, whatever their kind is asked."""
    return st.builds(
        Material,
        kind=st.sampled_from(MaterialKind.values),
        code=CODES,
        name=WORDS,
        supplier=st.sampled_from([None, *suppliers]),
        supplier_code=WORDS | st.just(""),
        unit=st.sampled_from(MaterialUnit.values),
        pack_quantity=amounts(3, "0.001"),
        pack_price=maybe(amounts(4)),
        thickness_ticks=TICKS,
        width_ticks=TICKS,
        length_ticks=TICKS,
        density_kg_m3=maybe(MASSES),
        mass_g_m2=MASSES,
        mass_g_each=maybe(MASSES),
        directional=st.booleans(),
        repeat_ticks=maybe(TICKS),
        backed=st.booleans(),
        flow_resistivity=maybe(st.integers(1, 10**6).map(float)),
        colour=WORDS | st.just(""),
        fire_class=st.sampled_from(FireClass.values),
        rated_load_n=maybe(MASSES),
        rating_source=WORDS,
        archived_at=st.just(None),
    )


def catalogues():
    names = st.lists(WORDS, min_size=1, max_size=3, unique_by=str.lower)
    return names.flatmap(
        lambda found: st.lists(
            materials([Supplier(name=name) for name in found]),
            min_size=1,
            max_size=4,
            unique_by=lambda row: row.code.lower(),
        )
    )


@contextmanager
def stored(rows):
    """Put materials and their suppliers into the database, for one example."""
    with transaction.atomic():
        suppliers = {row.supplier.pk: row.supplier for row in rows if row.supplier}
        Supplier.objects.bulk_create(suppliers.values())
        Material.objects.bulk_create(rows)
        yield
        transaction.set_rollback(True)


def plan(what, text):
    book = BOOKS[what]
    return plan_import(book, book.read(text))


def taken_out(what):
    return read_text(BOOKS[what].write())


def effects(found):
    return [line.effect for line in found.looked.lines]


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(rows=catalogues(), shop=st.sampled_from(SHOPS), later=st.sampled_from(SHOPS))
def test_what_is_taken_out_changes_nothing(db, rows, shop, later):
    with stored(rows):
        with using(shop):
            text = taken_out("materials")
            assert set(effects(plan("materials", text))) == {Effect.SAME}
        # in a shop that writes other units and decimals since
        with using(replace(later, currency=shop.currency)):
            assert set(effects(plan("materials", text))) == {Effect.SAME}


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(rows=catalogues(), data=st.data())
def test_changed_cells_change_just_their_fields(db, rows, data):
    with stored(rows):
        text = taken_out("materials")
        book = BOOKS["materials"]
        picked = data.draw(st.sets(st.sampled_from([r.code for r in rows])))
        table = book.read(text)
        for line in table.lines:
            if line.cells["code"] in picked:
                line.cells["colour"] = "another hue"
        found = plan_import(book, table)
        changed = {w.row.code: w for w in found.writings}
        assert set(changed) == picked
        for row in rows:
            if row.code in picked:
                assert changed[row.code].attrs == ("colour",)
                assert _rest(changed[row.code].row) == _rest(row)


def _rest(row):
    fields = row._meta.concrete_fields
    return {f.attname: getattr(row, f.attname) for f in fields if f.name != "colour"}


@pytest.mark.parametrize("shop", SHOPS, ids=lambda s: f"{s.locale}-{s.currency}")
def test_every_list_goes_round(db, shop):
    yard = make.make_supplier(name="=Yard & Söhne", phone="+49 30 1", lead_days=0)
    make.make_supplier(name="Ångström; “1/2”", archived_at=timezone.now())
    make.make_operation(name="Cut, then glue", notes="@bench")
    make.make_finish(at_125=Decimal("0.125"), source="-table 1")
    for made in (make.make_sheet, make.make_fabric, make.make_hardware):
        made(supplier=yard, pack_price=Decimal("12.3450"))
    with using(shop):
        for what, book in BOOKS.items():
            text = taken_out(what)
            assert set(effects(plan(what, text))) == {Effect.SAME}
            book.model.objects.all().delete()
            if what != "suppliers":  # none may be left for the others to name
                Supplier.objects.get_or_create(name=yard.name)
            assert set(effects(plan(what, text))) == {Effect.NEW}


def told(what, text):
    """Say line by line what a file does: the effect, then changes or sentences."""
    return [
        [line.effect, *line.changes, *(p[:2] for p in line.problems)]
        for line in plan(what, text).looked.lines
    ]


def test_a_changed_price_says_how_far_it_moves(db):
    make.make_sheet(code="ply", pack_price=Decimal("41.20"))
    make.make_hardware(code="eye", pack_price=Decimal(20), pack_quantity=Decimal(100))
    make.make_operation(code="cut", hourly_rate=Decimal(50))
    assert told("materials", "code,pack_price\nply,43.90\n") == [
        [Effect.CHANGED, ["pack_price", "41.20", "43.90", "+6.6 %"]]
    ]
    (_, pack, price), *_ = told("materials", "code,pack_quantity,pack_price\neye,50,9")
    assert pack == ["pack_quantity", "100", "50", ""]
    assert price == ["pack_price", "20.00", "9.00", "−10 % for one"]
    ((_, rate),) = told("operations", "code,hourly_rate\ncut,49\n")
    assert rate[3] == "−2 %"


def test_what_has_no_column_stays_and_an_empty_cell_empties(db):
    make.make_fabric(code="moss", colour="moss", supplier_code="77")
    ((_, change),) = told("materials", "code;colour\nmoss;\n")
    assert change == ["colour", "moss", "", ""]


def test_a_new_material_takes_what_its_page_would_start_from(db):
    text = "code,kind,name,mass_each\neye-10,Hardware,Eye bolt,18\n"
    found = plan("materials", text)
    (writing,) = found.writings
    assert effects(found) == [Effect.NEW]
    assert (writing.row.kind, writing.row.pack_quantity) == ("hardware", 1)
    assert (writing.row.unit, writing.row.mass_g_each) == ("each", 18.0)


ROW = "code,kind,name,thickness,width,length,density,pack_quantity,pack_price\n"
GOOD = "a,sheet,Ash ply,15 mm,1220,2.44 m,620,1,40\n"
REFUSED = [
    ("materials", "kind,name,code\nsheet,Ash,", "code", "Fill this in"),
    ("materials", ROW + GOOD.replace("a,sheet", "a b,sheet"), "code", "valid"),
    ("materials", ROW + GOOD.replace("sheet", "plank"), "kind", "sheet, board, fabric"),
    ("materials", ROW + GOOD.replace("15 mm", "15 kg"), "thickness", "as a length"),
    ("materials", ROW + GOOD.replace("15 mm", ""), "thickness", "Type a length"),
    ("materials", ROW + GOOD.replace("620", ""), "density", "weight comes from it"),
    ("materials", ROW + GOOD.replace("40", '"1,250"'), "pack_price", "thousands"),
    ("materials", ROW + GOOD.replace(",40", ",x"), "pack_price", "read as a number"),
    ("materials", ROW + GOOD.replace("40", "-4"), "pack_price", "less than zero"),
    ("materials", ROW + GOOD.replace("Ash", "A\x07sh"), "name", "can't be printed"),
    ("materials", ROW + GOOD.replace("Ash", "A" * 121), "name", "at most 120"),
    (
        "materials",
        ROW + GOOD + GOOD.replace("a,", "A,"),
        "code",
        "Line 2 is about this",
    ),
    ("materials", ROW + GOOD.replace("40", "40,,more"), "", "more cells here than"),
    ("materials", "code,kind\nply,board", "kind", "The kind stays"),
    ("materials", "code,supplier\nply,Nobody", "supplier", "no supplier “Nobody”"),
    ("materials", "code,supplier\nply,Old yard", "supplier", "is put aside"),
    ("materials", "code,put_aside\nply,maybe", "put_aside", "yes or no"),
    ("materials", "code,rated_load\neye,50", "rated_load", "Write the unit"),
    ("materials", "code,rated_load\neye,50 kg", "rating_source", "needs its source"),
    ("materials", "code,rated_load\nply,50 kg", "rating_source", "needs its source"),
    ("suppliers", "name,email\nYard,@", "email", "valid email"),
    ("suppliers", "name,lead_days\nYard,1.5", "lead_days", "no decimals"),
    ("operations", "code,stage\ncut,later", "stage", "measure, build, upholster"),
    ("finishes", "key,at_125\nfelt,1.2", "at_125", "at most 1"),
    ("finishes", "key,name,source\nnew one,Felt,a table", "key", "valid"),
]


@pytest.mark.parametrize(
    ("what", "text", "column", "said"), REFUSED, ids=[f"{r[2]}-{r[3]}" for r in REFUSED]
)
def test_what_is_refused_says_why_beside_its_cell(db, what, text, column, said):
    make.make_sheet(code="ply")
    make.make_hardware(code="eye")
    make.make_operation(code="cut")
    make.make_finish(key="felt")
    make.make_supplier(name="Old yard", archived_at=timezone.now())
    effect, *problems = told(what, text)[-1]
    assert effect == Effect.REFUSED
    assert any(where == column and said in why for where, why in problems), problems


@pytest.mark.parametrize(
    ("locale", "typed", "price"),
    [
        ("en_GB", "1.125", "1.125"),
        ("en_GB", "1,125", None),
        ("de_DE", "1,125", "1.125"),
        ("de_DE", "1.125", None),
        ("de_DE", "41,2", "41.2"),
        ("en_GB", "41,20", "41.2"),
        ("en_GB", "1,234.50", None),
        ("en_GB", "0.001", "0.001"),
    ],
)
def test_decimals_are_read_in_the_shops_way_where_it_is_clear(db, locale, typed, price):
    make.make_sheet(code="ply", pack_price=None)
    with using(Conventions(locale=locale)):
        found = plan("materials", f"code;pack_price\nply;{typed}\n")
    got = [writing.row.pack_price for writing in found.writings]
    assert got == ([] if price is None else [Decimal(price)])


def test_a_bare_length_is_in_the_shops_unit_and_a_title_may_say_so(db):
    make.make_board(code="batten")
    with using(IMPERIAL):
        (found,) = plan("materials", 'code,width (in)\nbatten,"1 3/4"\n').writings
        assert found.row.width_ticks == mm(44.45)
        with pytest.raises(TableError, match="takes “in”"):
            plan("materials", "code,width (mm)\nbatten,44\n")


def test_suppliers_are_known_by_name_whatever_its_capitals(db):
    yard = make.make_supplier(name="Lindyard")
    make.make_sheet(code="ply")
    (writing,) = plan("materials", "code,supplier\nPLY, lindyard \n").writings
    assert writing.row.supplier_id == yard.pk
    assert effects(plan("suppliers", "name\nLINDYARD\n")) == [Effect.SAME]


def test_what_stays_aside_is_marked(db):
    make.make_sheet(code="ply", name="Ply", archived_at=timezone.now())
    (line,) = plan("materials", "code,name\nply,Ply\n").looked.lines
    assert line.name == "Ply (put aside)"
    assert told("materials", "code,put_aside\nply,\n") == [
        [Effect.CHANGED, ["put_aside", "yes", "no", ""]]
    ]


def test_every_field_that_a_person_fills_has_a_column():
    for book in BOOKS.values():
        columns = {column.attr for column in book.columns}
        fields = {f.name for f in book.model._meta.concrete_fields if f.editable}
        assert fields <= columns
        names = [column.name for column in book.columns]
        assert len(names) == len(set(names))


def test_as_many_questions_for_two_rows_as_for_twenty(db, count_queries):
    text = ROW + GOOD.replace("a,", "ply,")
    text += "".join(GOOD.replace("a,sheet", f"b{n},sheet") for n in range(20))
    make.make_sheet(code="ply")
    few = count_queries(lambda: plan("materials", "".join(text.splitlines(True)[:3])))
    assert count_queries(lambda: plan("materials", text)) == few <= 3
