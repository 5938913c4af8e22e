"""From takeoffs to what is cut: equal pieces together, and whose each is."""

import pytest

from quotes.specs.engine import take_off
from quotes.specs.engine.cutlist import Wanted, cut_list
from quotes.specs.engine.model import NominalSize, PartRole
from quotes.specs.engine.preset_stock import preset_stock
from quotes.specs.engine.presets import five_builds
from shared.length import UnitSystem, from_inches, from_mm

METRIC, IMPERIAL = UnitSystem.METRIC, UnitSystem.IMPERIAL


def takeoff(name, *, width=600, height=1200, units=METRIC):
    at = from_mm if units is METRIC else from_inches
    stock = {each.key: each for each in preset_stock(units)}
    build = next(build for build in five_builds(units) if build.key == name)
    return take_off(build, NominalSize(at(width), at(height)), stock, units=units)


def listed(*wanted, units=METRIC):
    return {part.key: part for part in cut_list(wanted, units=units)}


def test_equal_pieces_of_two_builds_are_put_together_and_keep_their_owners():
    wall = Wanted(takeoff("wall-panel"), ("a", "b"))
    screen = Wanted(takeoff("screen"), ("c",))
    stile = listed(wall, screen)["1170 × 100 mm"]
    assert stile.count == 6
    assert {(share.panel, share.count) for share in stile.shares} == {
        ("a", 2),
        ("b", 2),
        ("c", 2),
    }
    brace = listed(wall, screen)["570 × 75 mm"]
    assert brace.label == "centre brace, cross brace"
    assert {share.label for share in brace.shares if share.panel == "c"} == {
        "cross brace"
    }


@pytest.mark.parametrize("units", [METRIC, IMPERIAL])
@pytest.mark.parametrize("name", [build.key for build in five_builds()])
def test_no_piece_is_lost_and_none_counts_twice(name, units):
    size = {"width": 600, "height": 1200} if units is METRIC else {}
    made = takeoff(name, units=units, **(size or {"width": 24, "height": 48}))
    parts = cut_list([Wanted(made, ("a", "b", "c"))], units=units)
    wanted = sum(blank.count for blank in made.blanks)
    assert sum(part.count for part in parts) == 3 * wanted
    assert all(p.count == sum(s.count for s in p.shares) for p in parts)
    area = sum(b.rip_width_ticks * b.length_ticks * b.count for b in made.blanks)
    assert 3 * area == sum(p.width_ticks * p.length_ticks * p.count for p in parts)
    assert len({(part.stock, part.key) for part in parts}) == len(parts)


def test_a_cleat_pair_is_one_blank_whose_mate_gives_the_wall_cleats():
    made = takeoff("wall-panel")
    parts = cut_list([Wanted(made, ("a", "b"))], units=METRIC)
    (pair,) = (part for part in parts if part.is_pair)
    assert (pair.count, pair.parts_each, pair.bevel_deg) == (2, 2, 45.0)
    walls = made.parts_of(PartRole.WALL_CLEAT)
    for share in pair.shares:
        assert sum(mate.count for mate in share.mates) == sum(w.count for w in walls)
        assert {m.length_ticks for m in share.mates} == {
            w.cut_length_ticks for w in walls
        }


def test_a_bevelled_edge_is_no_pair_and_no_square_piece_either():
    parts = cut_list([Wanted(takeoff("corner-panel"), ("a",))], units=METRIC)
    (stile,) = (part for part in parts if part.bevel_deg)
    assert (stile.is_pair, stile.parts_each) == (False, 1)
    assert stile.short_face_ticks == stile.long_face_ticks - from_mm(15)
    assert "45° edge" in stile.key


def test_sizes_that_print_alike_have_keys_of_their_own():
    a = Wanted(takeoff("wall-panel", width=600), ("a",))
    hair = take_off(
        five_builds()[0],
        NominalSize(from_mm(600) + 1, from_mm(1200)),
        {each.key: each for each in preset_stock()},
    )
    parts = cut_list([a, Wanted(hair, ("b",))], units=METRIC)
    assert len({part.key for part in parts}) == len(parts)
    rails = [part for part in parts if part.label == "rail"]
    assert [part.count for part in rails] == [2, 2]


def test_nothing_wanted_is_nothing_to_cut():
    assert cut_list([], units=METRIC) == ()
    assert cut_list([Wanted(takeoff("screen"), ())], units=METRIC) == ()
