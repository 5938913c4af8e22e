import pytest

from quotes.specs.engine.model import (
    Driver,
    Hanging,
    NominalSize,
    PanelKind,
    PartRole,
)
from quotes.specs.engine.preset_stock import preset_stock
from quotes.specs.engine.presets import five_builds
from quotes.specs.engine.takeoff import ENGINE_VERSION, take_off
from shared.length import UnitSystem
from tests.factories.takeoff import inch, mm

SIZES = {
    UnitSystem.METRIC: [(mm(600), mm(1200)), (mm(1200), mm(900)), (mm(1200), mm(1500))],
    UnitSystem.IMPERIAL: [(inch(24), inch(48)), (inch(48), inch(36))],
}
CASES = [
    (units, index, *size)
    for units in UnitSystem
    for index in range(5)
    for size in SIZES[units]
]


@pytest.mark.parametrize(("units", "index", "width", "height"), CASES)
def test_the_five_builds_take_off_at_usual_sizes(units, index, width, height):
    stock = {each.key: each for each in preset_stock(units)}
    made = five_builds(units)[index]
    panel = take_off(made, NominalSize(width, height), stock, units=units)
    assert panel.engine_version == ENGINE_VERSION
    assert panel.build_key == made.key
    assert panel.problems == ()
    assert panel.depths.slack_ticks >= 0
    assert 5 < panel.mass.panel_kg < 23


def test_one_build_for_each_kind_of_panel():
    assert [made.kind for made in five_builds()] == list(PanelKind)
    assert {made.hanging for made in five_builds()} == set(Hanging)


def test_preset_materials_are_all_named_and_all_there():
    named = set()
    for made in five_builds():
        named |= {made.frame_stock, made.fill, made.front_fabric, made.back_fabric}
        named |= {item.material for item in made.items}
        named |= {rule.stock for rule in (made.battens, made.feet) if rule}
    assert named - {None} == {each.key for each in preset_stock()}


def test_hung_build_has_blocking_glued_corners_and_its_load_path():
    hung = five_builds()[1]
    assert hung.glued
    assert hung.blocking
    path = {item.material for item in hung.items if item.in_load_path}
    assert path == {"eye-bolt", "quick-link", "chain", "ceiling-eye"}


def test_reveal_build_has_pull_tabs_and_a_compressible_edge():
    reveal = five_builds()[2]
    drivers = {item.material: item.driver for item in reveal.items}
    assert drivers["edge-strip"] is Driver.EDGE_STRIP_METRE
    assert drivers["pull-tab"] is Driver.PANEL


def test_screen_is_divided_by_its_brace_on_edge():
    stock = {each.key: each for each in preset_stock()}
    panel = take_off(five_builds()[4], NominalSize(mm(600), mm(1200)), stock)
    assert panel.parts_of(PartRole.FOOT)
    assert sum(piece.count for piece in panel.fills) == 2
