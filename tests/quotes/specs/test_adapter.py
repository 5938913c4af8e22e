from decimal import Decimal

import pytest

from quotes.specs import adapter, models
from quotes.specs.engine import words
from quotes.specs.engine.model import TakeoffError
from quotes.specs.models import BuildSpec
from shop.catalogue.models import Driver, MaterialKind, MaterialUnit, WorkStage
from tests.factories.catalogue import make_consumable, make_fabric, make_hardware, mm
from tests.factories.specs import (
    make_brace,
    make_spec,
    make_spec_item,
    make_spec_operation,
)

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("stored", "engine"),
    [
        (models.PanelKind, words.PanelKind),
        (models.Joint, words.Joint),
        (models.Fastening, words.Fastening),
        (models.Through, words.Through),
        (models.BackStyle, words.BackStyle),
        (models.Hanging, words.Hanging),
        (models.BraceRun, words.Runs),
        (models.BraceLies, words.Lies),
        (models.BraceEdge, words.Edge),
        (models.BracePlace, words.Position),
        (models.Face, words.Face),
        (Driver, words.Driver),
        (WorkStage, words.Stage),
    ],
)
def test_stored_words_are_those_of_the_takeoff(stored, engine):
    assert set(stored.values) == {word.value for word in engine}


def test_a_build_reads_its_rows_and_only_the_rule_it_hangs_by():
    spec = make_spec(cleat_holes=3, depth_ticks=mm(98))
    build = adapter.build_of(spec)
    assert build.depth_ticks == mm(98)
    assert build.cleat is not None
    assert build.cleat.holes == 3
    assert build.points is build.edge is build.battens is build.feet is None
    assert build.frame_stock == str(spec.frame_stock_id)
    assert [b.name for b in build.braces] == ["Cleat brace"]


def test_items_carry_role_spares_and_load_path():
    spec = make_spec()
    make_spec_item(
        spec=spec,
        material=make_hardware(),
        spare_percent=Decimal("10.0"),
        in_load_path=True,
        for_site=True,
    )
    make_spec_item(spec=spec, material=make_consumable(), position=1)
    hardware, consumable = adapter.build_of(spec).items
    assert hardware.role is words.ItemRole.HARDWARE
    assert consumable.role is words.ItemRole.CONSUMABLE
    assert hardware.spare_share == Decimal("0.1")
    assert hardware.in_load_path
    assert hardware.for_site
    assert not consumable.in_load_path


def test_operations_take_driver_and_stage_from_the_catalogue():
    spec = make_spec()
    row = make_spec_operation(spec=spec)
    (use,) = adapter.build_of(spec).operations
    assert use.key == str(row.operation_id)
    assert (use.driver, use.stage) == (words.Driver.JOINT, words.Stage.BUILD)


def test_rows_that_make_no_build_name_the_column():
    spec = make_spec(kind="corner", hanging="battens")
    with pytest.raises(TakeoffError) as refused:
        adapter.build_of(spec)
    assert refused.value.field == "battens_strip_ticks"


def test_a_bad_brace_names_its_row():
    spec = make_spec()
    make_brace(spec=spec, name="Odd", runs="upright", position=1)
    with pytest.raises(TakeoffError) as refused:
        adapter.build_of(spec)
    assert refused.value.field == "braces[1].edge"


def test_saved_decimals_freeze_like_typed_ones():
    spec = make_spec(cleat_wall_share=Decimal("0.5"))
    item = make_spec_item(spec=spec, quantity=Decimal("100"))
    fresh = BuildSpec.objects.with_parts().get(pk=spec.pk)
    assert str(adapter.build_of(fresh).items[0].quantity) == "100"
    assert str(adapter.build_of(fresh).cleat.wall_share) == "0.5"
    assert item.quantity == 100


def test_a_build_is_read_in_seven_queries(django_assert_num_queries):
    for number in range(3):
        spec = make_spec()
        make_brace(spec=spec, name=f"Second {number}", stock=spec.frame_stock)
        make_spec_item(spec=spec)
        make_spec_operation(spec=spec)
    with django_assert_num_queries(7):
        for spec in BuildSpec.objects.with_parts():
            adapter.build_of(spec)
            adapter.stocks_of(adapter.materials_of(spec))


def test_materials_hold_every_one_of_the_build_and_the_other_fabric():
    spec = make_spec(back_fabric=make_fabric(), back_style="inside_frame")
    item = make_spec_item(spec=spec)
    other = make_fabric()
    found = adapter.materials_of(spec, fabric=other)
    wanted = {
        spec.frame_stock,
        spec.fill,
        spec.front_fabric,
        spec.back_fabric,
        item.material,
        other,
    }
    assert set(found.values()) == wanted
    assert all(key == str(material.pk) for key, material in found.items())


def test_stock_holds_facts_and_no_price():
    chain = make_hardware(mass_g_each=210.0, unit=MaterialUnit.METRE)
    stock = adapter.stock_of(chain)
    assert (stock.mass_g_each, stock.unit) == (210.0, "m")
    assert stock.kind.value == MaterialKind.HARDWARE
    assert not any("price" in field for field in stock.__slots__)
