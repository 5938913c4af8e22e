"""A panel is cleared only when all that carries it is rated, and enough."""

from dataclasses import replace
from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quotes.safety.engine import (
    At,
    Building,
    Frame,
    Hardware,
    Hung,
    Member,
    OnBattens,
    OnCleats,
    Rated,
    SafetyError,
    load_path,
)
from quotes.safety.engine.statics import cleat_screw_load
from shared.length import UnitSystem

PLENTY = Rated(1000.0, "maker's data sheet")
CORNERS = (At(0.05, 0.05), At(0.55, 0.05), At(0.05, 1.15), At(0.55, 1.15))
HUNG = Hung(
    mass_kg=10.0,
    points=CORNERS,
    centre=At(0.3, 0.6),
    hardware=tuple(
        Hardware(n, 4, PLENTY) for n in ("ceiling eye", "chain", "eye bolt")
    ),
    building=Building("ceiling", frozenset({"board_wood"}), PLENTY),
    frame=Frame(blocked=True, glued=True, rating=PLENTY, joint_rating=PLENTY),
)
ON_CLEATS = OnCleats(
    mass_kg=10.0,
    off_wall_m=0.05,
    arm_m=1.0,
    bevel_deg=45.0,
    hardware=(Hardware("wall screw", 2, PLENTY, each_hole=True),),
    building=Building("wall", frozenset({"brick"}), PLENTY),
    frame=Frame(blocked=True, glued=True, rating=PLENTY, joint_rating=PLENTY),
)


def test_all_rated_and_enough_is_cleared():
    path = load_path(HUNG)
    assert path.cleared
    assert path.missing == ()


def test_the_path_runs_from_the_building_to_the_corners():
    members = [element.member for element in load_path(HUNG).elements]
    assert members == [
        Member.FRAMING,
        *[Member.HARDWARE] * 3,
        Member.FRAME,
        Member.JOINT,
    ]


@pytest.mark.parametrize("index", [0, 1, 2])
def test_one_unrated_part_is_enough_to_stop_it(index):
    parts = list(HUNG.hardware)
    parts[index] = replace(parts[index], rating=None)
    path = load_path(replace(HUNG, hardware=tuple(parts)))
    assert not path.cleared
    assert path.missing == (f"no rating for the {parts[index].name}",)


def test_the_framing_has_to_be_found():
    path = load_path(replace(HUNG, building=replace(HUNG.building, rating=None)))
    assert path.missing == ("the framing of the ceiling has not been found",)


def test_masonry_carries_by_itself_but_somebody_has_to_say_what():
    path = load_path(
        replace(ON_CLEATS, building=replace(ON_CLEATS.building, rating=None))
    )
    assert path.missing == ("no rating for the wall itself",)


@pytest.mark.parametrize(
    ("frame", "words"),
    [
        (replace(HUNG.frame, blocked=False), "no blocking behind"),
        (replace(HUNG.frame, glued=False), "corners are not glued"),
        (replace(HUNG.frame, rating=None), "no rating for the blocking"),
        (replace(HUNG.frame, joint_rating=None), "no rating for the frame’s corners"),
    ],
)
def test_the_panels_own_wood_counts(frame, words):
    path = load_path(replace(HUNG, frame=frame))
    assert not path.cleared
    assert words in path.missing[0]


@pytest.mark.parametrize("made_of", ["grid", "glass", "isolated"])
def test_some_ceilings_hold_nothing_whatever_is_stated(made_of):
    building = Building("ceiling", frozenset({made_of}), PLENTY)
    path = load_path(replace(HUNG, building=building))
    assert not path.cleared
    assert path.missing[0].startswith("the ceiling is ")


def test_a_room_with_one_good_wall_is_not_stopped():
    building = Building("wall", frozenset({"glass", "brick"}), PLENTY)
    assert load_path(replace(ON_CLEATS, building=building)).cleared


def test_an_anchor_in_board_never_carries_overhead():
    anchor = Hardware("toggle anchor", 4, PLENTY, hollow=True)
    path = load_path(replace(HUNG, hardware=(anchor,)))
    assert not path.cleared
    assert "never carries overhead" in path.missing[0]


@pytest.mark.parametrize(("count", "said"), [(3, "3"), (1, "1"), (1.5, "1.5")])
def test_a_point_without_a_piece_of_its_own_is_never_cleared(count, said):
    few = replace(HUNG, hardware=(Hardware("eye", count, PLENTY),))
    path = load_path(few)
    assert not path.cleared
    assert path.missing == (f"{said} × eye for 4 points: each needs its own",)


def test_chain_is_counted_in_metres_and_not_by_points():
    eye, chain = Hardware("eye", 4, PLENTY), Hardware("chain", 2.0, PLENTY, unit="m")
    assert load_path(replace(HUNG, hardware=(eye, chain))).cleared


PLAIN_SCREW = ON_CLEATS.hardware[0]


@pytest.mark.parametrize(
    "hold",
    [
        lambda part: replace(HUNG, hardware=(HUNG.hardware[0], part)),
        lambda part: replace(ON_CLEATS, hardware=(PLAIN_SCREW, part)),
        lambda part: OnBattens(5.0, (Hardware("pad", 8, PLENTY), part), HUNG.building),
    ],
    ids=("hung", "on cleats", "on battens"),
)
@pytest.mark.parametrize(
    ("part", "words"),
    [
        (Hardware("chain", 0, PLENTY, unit="m"), "no drop given yet: 0 m of chain"),
        (Hardware("clip", 0, PLENTY), "the panel has none of the clip"),
        (Hardware("clip", 0, PLENTY, per_job=True), "once for the whole job"),
        (Hardware("chain", 0, PLENTY, unit="m", per_job=True), "the whole job"),
    ],
)
def test_a_part_of_which_there_is_none_is_never_cleared(hold, part, words):
    path = load_path(hold(part))
    assert not path.cleared
    assert len(path.missing) == 1
    assert words in path.missing[0]


def test_too_little_is_said_with_both_figures_rounded_apart():
    weak = replace(HUNG, hardware=(Hardware("chain", 4, Rated(49.0, "tag")),))
    assert load_path(weak).missing == ("the chain is rated 49 N and must hold 50 N",)
    assert load_path(weak, units=UnitSystem.IMPERIAL).missing == (
        "the chain is rated 11 lbf and must hold 12 lbf",
    )


def test_wall_screws_share_but_another_part_holds_alone():
    path = load_path(
        replace(
            ON_CLEATS, hardware=(*ON_CLEATS.hardware, Hardware("metal rail", 1, PLENTY))
        )
    )
    screw, rail = path.elements[1:3]
    assert screw.must_hold_n == pytest.approx(98.0665 * (1 + 0.05 + 1) / 2)
    assert rail.must_hold_n == pytest.approx(2 * screw.must_hold_n)


@pytest.mark.parametrize(
    ("held", "words"),
    [
        (replace(HUNG, hardware=()), "no part that it hangs by"),
        (replace(ON_CLEATS, hardware=()), "no screw for its wall cleat"),
        (OnBattens(5.0, (), ON_CLEATS.building), "no part that joins it"),
    ],
)
def test_a_build_that_names_nothing_is_not_cleared(held, words):
    path = load_path(held)
    assert not path.cleared
    assert any(words in line for line in path.missing)


def test_a_corner_panel_asks_for_pads_and_screws():
    parts = (Hardware("batten screw", 6), Hardware("pad", 8, PLENTY))
    path = load_path(OnBattens(5.0, parts, ON_CLEATS.building))
    assert path.missing == ("no rating for the batten screw",)


def test_a_panel_that_balances_outside_its_points_is_not_cleared():
    path = load_path(replace(HUNG, centre=At(0.9, 0.6)))
    assert not path.cleared
    assert "slack" in path.missing[0]


@pytest.mark.parametrize(
    "make",
    [
        lambda: load_path(replace(HUNG, mass_kg=0)),
        lambda: load_path(replace(HUNG, angle_deg=46)),
        lambda: load_path(replace(HUNG, angle_deg=-1)),
        lambda: load_path(replace(ON_CLEATS, arm_m=0)),
        lambda: replace(HUNG, points=CORNERS[:1]),
        lambda: Rated(0, "tag"),
        lambda: Rated(float("nan"), "tag"),
        lambda: Rated(10, " "),
    ],
)
def test_figures_that_mean_nothing_are_refused(make):
    with pytest.raises(SafetyError):
        make()


def test_what_is_held_in_no_known_way_has_no_path():
    with pytest.raises(TypeError):
        load_path(SimpleNamespace(mass_kg=1.0))


def test_a_cleat_without_screws_holds_nothing():
    with pytest.raises(SafetyError):
        cleat_screw_load(1.0, screws=0, off_wall_m=0.1, arm_m=1.0, bevel_deg=45)


@given(
    mass=st.floats(0.5, 80),
    more=st.floats(0.1, 80),
    rating=st.floats(1, 2000),
    angle=st.floats(0, 45),
)
def test_a_heavier_panel_is_never_cleared_where_a_lighter_is_not(
    mass, more, rating, angle
):
    parts = (Hardware("chain", 4, Rated(rating, "tag")),)
    light = replace(HUNG, mass_kg=mass, hardware=parts, angle_deg=angle)
    heavy = replace(light, mass_kg=mass + more)
    assert load_path(light).cleared or not load_path(heavy).cleared
