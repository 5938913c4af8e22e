"""The van list: every panel by code, hardware by count, tools and bits with a reason."""

import math
from decimal import Decimal
from itertools import count

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.board.codes import runs_of
from jobs.visits.engine import (
    Holding,
    Load,
    VanItem,
    VanPanel,
    VanPiece,
    VanRoom,
    van_list,
)
from jobs.visits.engine.vanlist import KEY_LENGTH, measure
from jobs.visits.models import VanTick
from shared.length import UnitSystem

_numbers = count(1)


def panel(holding=Holding.CLEAT, **fields):
    usual = {
        "code": f"J1-{next(_numbers):02d}",
        "what": "Wall panel",
        "size": "600 × 1200 mm",
        "room": "Front room",
        "mass_kg": 8.0,
        "one_person_kg": 23.0,
    }
    return VanPanel(holding=holding, **(usual | fields))


def screws(quantity="2", spare="0.4", **fields):
    usual = {"material": "screw", "name": "Screw", "unit": "each"}
    return VanItem(quantity=Decimal(quantity), spare=Decimal(spare), **(usual | fields))


def listed(*panels, walls=("board_wood",), ceiling="board_wood", **kwargs):
    """Lines by key, without the count that it ends in."""
    room = VanRoom("Front room", frozenset(walls), ceiling)
    found = van_list(Load(tuple(panels), (room,)), **kwargs)
    return {line.key.removesuffix(f":{line.count}"): line for line in found.lines}


def test_every_panel_is_there_by_its_code():
    panels = [panel(), panel(), panel()]
    keys = [key for key in listed(*panels) if key.startswith("panel:")]
    assert keys == [f"panel:{each.code}" for each in panels]


def test_spares_are_added_up_before_they_are_rounded():
    # 14 panels with 2 screws and 0.4 to spare each: 28 and 5.6, so 34 and not 28 + 14
    line = listed(*(panel(items=(screws(),)) for _ in range(14)))["item:screw"]
    assert (line.count, line.why) == ("34", "28 needed, 6 to spare")


@given(
    st.lists(st.tuples(st.integers(1, 9), st.integers(0, 9)), min_size=1, max_size=30)
)
def test_count_is_never_less_than_needed_nor_a_whole_piece_too_many(rows):
    panels = [
        panel(items=(screws(str(need), str(Decimal(spare) / 10)),))
        for need, spare in rows
    ]
    line = listed(*panels)["item:screw"]
    exact = sum(need for need, _ in rows) + Decimal(sum(s for _, s in rows)) / 10
    assert exact <= int(line.count) < exact + 1


@given(st.permutations(range(6)))
def test_the_order_of_panels_changes_no_count(order):
    panels = [panel(code=f"J9-{i}", items=(screws(spare=f"0.{i}"),)) for i in range(6)]
    straight = listed(*panels)["item:screw"]
    assert listed(*(panels[i] for i in order))["item:screw"].count == straight.count


def test_what_counts_once_for_the_job_is_taken_once():
    kit = screws("1", "0", material="kit", name="Repair kit", once=True)
    found = listed(*(panel(items=(kit,)) for _ in range(5)))
    assert found["item:kit"].count == "1"


def test_the_same_hardware_of_two_builds_is_one_line():
    found = listed(panel(items=(screws("2", "0"),)), panel(items=(screws("3", "0"),)))
    assert found["item:screw"].count == "5"


@pytest.mark.parametrize(
    ("amount", "unit", "units", "text"),
    [
        ("4.41", "m", UnitSystem.METRIC, "4.5 m"),
        ("40", "m", UnitSystem.METRIC, "40 m"),
        ("2.2", "m", UnitSystem.IMPERIAL, "7.5 ft"),
        ("0.3048", "m", UnitSystem.IMPERIAL, "1 ft"),
        ("119.2", "ml", UnitSystem.IMPERIAL, "120 ml"),
    ],
)
def test_what_is_not_counted_in_pieces_is_rounded_up(amount, unit, units, text):
    assert measure(Decimal(amount), unit, units) == text


@given(st.decimals("0.01", "500", places=3))
def test_chain_is_never_rounded_down(metres):
    feet = float(measure(metres, "m", UnitSystem.IMPERIAL).split()[0])
    assert feet * 0.3048 >= float(metres) - 1e-9
    assert math.isclose(feet * 2, round(feet * 2))


def test_wood_for_the_building_is_counted_by_length_and_names_its_panels():
    cleat = VanPiece("wall cleat", 300 * 320, 1)
    panels = [panel(code=f"J1-0{i}", pieces=(cleat,)) for i in range(1, 5)]
    line = listed(*panels)["part:wall-cleat:96000"]
    assert (line.count, line.name) == ("4", "Wall cleat, 300 mm")
    assert "J1-01 to J1-04" in line.why


@pytest.mark.parametrize(
    ("fields", "one", "two"),
    [
        ({"items": (screws("2", "0"),)}, "item:screw:2", "item:screw:4"),
        ({"items": (screws("2", "0.2", unit="m"),)}, "item:screw:2.2-m", "4.4-m"),
        ({"pieces": (VanPiece("wall cleat", 96000, 1),)}, "cleat:96000:1", "96000:2"),
        ({"holes": 5}, "bit:plugs:6", "bit:plugs:12"),
    ],
)
def test_a_key_ends_in_the_count_so_that_no_tick_stands_for_another(fields, one, two):
    first, second = (
        {line.key for line in listed(*panels, walls=("brick",)).values()}
        for panels in ([panel(**fields)], [panel(**fields), panel(**fields)])
    )
    assert any(key.endswith(one) for key in first - second)
    assert any(key.endswith(two) for key in second - first)


@pytest.mark.parametrize(
    "fields",
    [
        {"pieces": (VanPiece("batten " * 20, 96000, 12),)},
        {"items": (screws("12", "0", material="s" * 99),)},
    ],
)
def test_a_long_name_is_cut_and_never_the_count(fields):
    keys = [line.key for line in listed(panel(**fields)).values()]
    (cut,) = [key for key in keys if len(key) == KEY_LENGTH]
    assert cut.endswith(":12")
    assert VanTick._meta.get_field("key").max_length == KEY_LENGTH


def test_nothing_is_listed_twice():
    found = van_list(
        Load(
            tuple(panel(holding) for holding in Holding for _ in range(2)),
            (VanRoom("Front room", frozenset({"brick", "", "lath"}), "concrete"),),
        )
    )
    keys = [line.key for line in found.lines]
    assert len(set(keys)) == len(keys)


def test_nothing_to_take_is_an_empty_list():
    assert van_list(Load((), ())).groups == ()


class TestTools:
    @pytest.mark.parametrize(
        ("holding", "wanted", "not_wanted"),
        [
            (Holding.CLEAT, {"laser", "driver", "finder"}, {"spanners", "tuck"}),
            (Holding.CHAIN, {"spanners", "lift", "ladder"}, {"tuck", "level"}),
            (Holding.EDGE, {"tuck", "gloves"}, {"drill", "vacuum", "laser"}),
            (Holding.BATTENS, {"level", "drill"}, {"spanners", "ladder"}),
            (Holding.FEET, {"foot-key"}, {"drill", "ladder"}),
        ],
    )
    def test_follow_from_how_panels_hang(self, holding, wanted, not_wanted):
        keys = {k.removeprefix("tool:") for k in listed(panel(holding)) if "tool:" in k}
        assert wanted <= keys
        assert not not_wanted & keys

    def test_each_has_its_reason(self):
        lines = listed(*(panel(holding) for holding in Holding), walls=("brick",))
        kept = [v for k, v in lines.items() if k.startswith(("tool:", "bit:"))]
        assert len(kept) > 15
        assert all(line.why for line in kept)

    def test_a_heavy_panel_asks_for_a_second_pair_of_hands_by_code(self):
        lines = listed(panel(), panel(code="J7-02", mass_kg=23.5))
        assert lines["tool:lift"].why == "J7-02 too heavy for one person"

    def test_a_light_panel_does_not(self):
        assert "tool:lift" not in listed(panel(mass_kg=23.0))


class TestBits:
    @pytest.mark.parametrize(
        ("made_of", "wanted"),
        [
            ("board_wood", {"driver", "wood"}),
            ("timber", {"driver", "wood"}),
            ("board_metal", {"driver", "metal"}),
            ("brick", {"driver", "masonry", "plugs"}),
            ("block", {"driver", "masonry", "plugs"}),
            ("concrete", {"driver", "masonry", "plugs"}),
            ("lath", {"driver", "wood", "plaster"}),
            ("", {"driver", "wood", "metal", "masonry", "plugs", "plaster"}),
            ("glass", set()),
            ("isolated", set()),
        ],
    )
    def test_follow_from_what_the_wall_is_made_of(self, made_of, wanted):
        lines = listed(panel(holes=2), walls=(made_of,))
        keys = {k.removeprefix("bit:") for k in lines if k.startswith("bit:")}
        assert keys == wanted

    def test_hung_panels_ask_about_the_ceiling_not_the_walls(self):
        lines = listed(panel(Holding.CHAIN), walls=("brick",), ceiling="board_metal")
        assert "bit:metal" in lines
        assert "bit:masonry" not in lines
        assert lines["bit:metal"].why == "Front room, ceiling: board on metal framing"

    def test_plugs_are_counted_by_holes_with_one_in_five_to_spare(self):
        lines = listed(panel(holes=2), panel(holes=4), walls=("brick",))
        assert lines["bit:plugs"].count == "8"

    def test_rooms_of_one_name_at_two_sites_are_two_rooms(self):
        rooms = (
            VanRoom("Office", frozenset({"brick"}), id="a"),
            VanRoom("Office", frozenset({"board_wood"}), id="b"),
        )
        panels = (
            panel(room="Office", room_id="a", holes=5),
            panel(room="Office", room_id="b", holes=50),
        )
        lines = {line.key: line for line in van_list(Load(panels, rooms)).lines}
        assert {"bit:masonry", "bit:wood", "bit:plugs:6"} <= set(lines)
        assert lines["bit:wood"].why == "Office, walls: board on wood framing"

    def test_a_wall_nobody_looked_at_says_so(self):
        lines = listed(panel(holes=2), walls=("",))
        assert lines["bit:masonry"].why == "Front room, walls: not looked at yet"

    def test_a_panel_in_its_opening_needs_no_bit(self):
        assert not [k for k in listed(panel(Holding.EDGE)) if k.startswith("bit:")]


@pytest.mark.parametrize(
    ("codes", "text"),
    [
        (["J1-01"], "J1-01"),
        (["J1-01", "J1-02"], "J1-01, J1-02"),
        (["J1-01", "J1-02", "J1-03", "J1-07"], "J1-01 to J1-03, J1-07"),
        (["J1-09", "J1-10", "J1-11"], "J1-09 to J1-11"),
        (["J1-02", "J2-03", "J2-04"], "J1-02, J2-03, J2-04"),
        ([], ""),
    ],
)
def test_codes_in_a_row_are_drawn_together(codes, text):
    assert runs_of(codes) == text
