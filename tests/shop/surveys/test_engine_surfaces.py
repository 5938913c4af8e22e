"""Surfaces of a room and what covers them: areas add up, openings subtract."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.catalogue.engine import FINISHES
from shop.surveys.engine import (
    QUARTER,
    Ceiling,
    OpeningIn,
    Readings,
    RoomIn,
    WallIn,
    WallLine,
    rectangle,
)
from shop.surveys.engine.presets import PRESETS
from shop.surveys.engine.surfaces import CoveringIn, On, surfaces
from shop.surveys.models import Surface
from tests.factories.surveys import mm

SIDE = st.integers(mm(1500), mm(12_000))
HIGH = st.integers(mm(2000), mm(4500))
LENGTH = st.none() | st.integers(mm(10), mm(9000))


def hole(width, height, name="window"):
    return OpeningIn(name, "window", Readings((width,), (height,)), 0, 0)


USUAL = {"length": mm(5000), "width": mm(4000), "height": mm(2500)}


def room(holes=(), **sides):
    length, width, height = (USUAL | sides).values()
    lines = rectangle(length, width)
    first = WallIn("A", lines[0], openings=tuple(holes))
    others = (WallIn(n, line) for n, line in zip("BCD", lines[1:], strict=True))
    return RoomIn((first, *others), height_ticks=height)


def l_room():
    walk = ((4000, 1), (3000, 1), (3000, 1), (1000, -1), (1000, 1), (2000, 1))
    walls = (
        WallIn(name, WallLine(mm(side), QUARTER * turn))
        for name, (side, turn) in zip("ABCDEF", walk, strict=True)
    )
    return RoomIn(tuple(walls), height_ticks=mm(2500))


def areas(found):
    """The area of each surface under each finish, to the square millimetre."""
    return {
        (p.surface, p.finish): None if p.area_m2 is None else round(p.area_m2, 6)
        for p in found.pieces
    }


COVERINGS = st.lists(
    st.builds(
        CoveringIn,
        on=st.sampled_from(On),
        finish=st.sampled_from(["", "brick", "wool"]),
        wall=st.integers(-1, 3),
        opening=st.integers(-1, 1),
        width_ticks=LENGTH,
        height_ticks=LENGTH,
    ),
    max_size=8,
)


class TestLaws:
    @given(SIDE, SIDE, HIGH, COVERINGS)
    def test_pieces_add_up_to_the_boundary_whatever_is_noted(
        self, length, width, height, noted
    ):
        found = surfaces(
            room([hole(mm(900), mm(1200))], length=length, width=width, height=height),
            noted,
        )
        box = 2 * (length * width + length * height + width * height) * 3.125e-6**2
        assert found.boundary_m2 == pytest.approx(box)
        assert sum(p.area_m2 for p in found.pieces) == pytest.approx(box)
        assert all(p.area_m2 > 0 for p in found.pieces)

    @given(SIDE, SIDE, HIGH, COVERINGS)
    def test_no_surface_has_more_under_finishes_than_there_is(
        self, length, width, height, noted
    ):
        found = surfaces(room(length=length, width=width, height=height), noted)
        bare = surfaces(room(length=length, width=width, height=height), [])
        for piece in bare.pieces:
            covered = sum(p.area_m2 for p in found.pieces if p.surface == piece.surface)
            assert covered == pytest.approx(piece.area_m2)
        for excess in found.excesses:
            assert excess.taken_m2 > excess.there_m2

    @given(st.integers(mm(100), mm(1400)), st.integers(mm(100), mm(2000)))
    def test_a_hole_takes_its_area_from_its_wall_and_from_nothing_else(self, w, h):
        whole, less = surfaces(room(), []), surfaces(room(holes=[hole(w, h)]), [])
        before, after = areas(whole), areas(less)
        assert after["window", ""] == pytest.approx(w * h * 3.125e-6**2, abs=2e-6)
        assert before["wall A", ""] - after["wall A", ""] == pytest.approx(
            after["window", ""], abs=2e-6
        )
        assert {k: v for k, v in after.items() if k[0] not in ("wall A", "window")} == {
            k: v for k, v in before.items() if k[0] != "wall A"
        }


class TestWhatIsNoted:
    def test_a_finish_for_all_walls_lies_where_no_other_does(self):
        noted = [
            CoveringIn(On.WALL, "brick", wall=1),
            CoveringIn(On.WALLS, "plaster"),
            CoveringIn(On.FLOOR, "parquet"),
        ]
        found = surfaces(room(), noted)
        assert areas(found) == {
            ("wall A", "plaster"): 12.5,
            ("wall B", "brick"): 10,
            ("wall C", "plaster"): 12.5,
            ("wall D", "plaster"): 10,
            ("ceiling", ""): 20,
            ("floor", "parquet"): 20,
        }
        assert found.bare == ("ceiling",)

    def test_a_part_leaves_the_rest_to_the_finish_of_the_whole(self):
        noted = [
            CoveringIn(On.WALLS, "plaster"),
            CoveringIn(On.WALL, "curtain", 0, -1, mm(2000), mm(2500)),
            CoveringIn(On.FLOOR, "rug", -1, -1, mm(2000), mm(3000)),
        ]
        found = areas(surfaces(room(), noted))
        assert found["wall A", "curtain"] == 5
        assert found["wall A", "plaster"] == 7.5
        assert (found["floor", "rug"], found["floor", ""]) == (6, 14)

    def test_one_side_alone_is_a_strip_along_the_wall(self):
        noted = [CoveringIn(On.WALL, "panelling", 0, -1, None, mm(1000))]
        assert areas(surfaces(room(), noted))["wall A", "panelling"] == 5

    def test_a_strip_round_all_walls_is_shared_out_by_what_each_has_left(self):
        noted = [CoveringIn(On.WALLS, "panelling", -1, -1, None, mm(1000))]
        found = areas(surfaces(room(), noted))
        assert found["wall A", "panelling"] == 5
        assert found["wall B", "panelling"] == 4

    def test_an_opening_has_a_finish_of_its_own(self):
        noted = [CoveringIn(On.OPENING, "glass", 0, 0), CoveringIn(On.WALLS, "brick")]
        found = surfaces(room(holes=[hole(mm(1000), mm(1000))]), noted)
        assert areas(found)["window", "glass"] == 1
        assert areas(found)["wall A", "brick"] == 11.5

    def test_parts_that_take_more_than_there_is_are_told_and_shrunk(self):
        noted = [
            CoveringIn(On.WALL, "curtain", 0, -1, mm(6000), mm(2500)),
            CoveringIn(On.WALL, "cork", 0, -1, mm(1000), mm(2500)),
        ]
        found = surfaces(room(), noted)
        (excess,) = found.excesses
        assert (excess.surface, excess.taken_m2, excess.there_m2) == (
            "wall A",
            pytest.approx(17.5),
            pytest.approx(12.5),
        )
        assert areas(found)["wall A", "curtain"] == pytest.approx(12.5 * 15 / 17.5)

    def test_of_two_for_the_same_whole_the_last_counts_and_both_are_told(self):
        noted = [CoveringIn(On.CEILING, "plaster"), CoveringIn(On.CEILING, "tile")]
        found = surfaces(room(), noted)
        assert areas(found)["ceiling", "tile"] == 20
        assert found.twice == ("ceiling",)

    def test_a_part_of_the_floor_by_one_side_is_no_area_yet(self):
        noted = [CoveringIn(On.FLOOR, "rug", -1, -1, mm(2000), None)]
        found = surfaces(room(), noted)
        assert found.unread == ("floor",)
        assert areas(found)["floor", ""] == 20


class TestShapes:
    def test_an_l_has_the_floor_that_its_walls_enclose(self):
        found = areas(surfaces(l_room(), []))
        assert found["floor", ""] == found["ceiling", ""] == 11
        assert found["wall D", ""] == 2.5

    def test_a_slope_makes_the_ceiling_larger_than_the_floor(self):
        # 3 : 4 : 5: it rises by 3 m over 4 m, so it is 5 m long where the floor is 4 m.
        lines = rectangle(mm(4000), mm(3000))
        heights = (mm(2000), mm(5000), mm(5000), mm(2000))
        walls = tuple(
            WallIn(name, line, height_ticks=height)
            for name, line, height in zip("ABCD", lines, heights, strict=True)
        )
        found = areas(surfaces(RoomIn(walls, ceiling=Ceiling.SLOPE), []))
        assert found["ceiling", ""] == 15
        assert found["floor", ""] == 12
        assert (found["wall A", ""], found["wall B", ""]) == (14, 15)

    def test_without_heights_the_floor_is_known_and_the_walls_are_not(self):
        found = surfaces(room(height=None), [CoveringIn(On.WALLS, "brick")])
        assert areas(found)["wall A", "brick"] is None
        assert areas(found)["floor", ""] == 20
        assert found.boundary_m2 is None
        assert found.excesses == ()


def test_the_surfaces_are_those_that_rows_name():
    assert {str(on) for on in On} == set(Surface.values)


@pytest.mark.parametrize("preset", PRESETS.values(), ids=lambda preset: preset.key)
def test_a_preset_names_finishes_that_come_with_the_program(preset):
    known = {finish.key for finish in FINISHES}
    assert {
        preset.walls,
        preset.ceiling,
        preset.floor,
        preset.window,
        preset.door,
    } <= known
