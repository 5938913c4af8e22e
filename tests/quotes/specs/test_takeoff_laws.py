"""Laws of the takeoff, over many sizes, stocks and builds."""

import math
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from quotes.specs.engine.geometry import (
    bevel_pair,
    evenly,
    narrowest_for_pair,
    rips_from_width,
    side_travel,
    strip_for_pair,
)
from quotes.specs.engine.model import (
    BackStyle,
    Driver,
    Hanging,
    Joint,
    Lies,
    NominalSize,
    Position,
    Runs,
    TakeoffError,
    Through,
)
from quotes.specs.engine.preset_stock import preset_stock
from quotes.specs.engine.presets import five_builds
from quotes.specs.engine.takeoff import take_off
from tests.factories.takeoff import (
    brace,
    build,
    cleat_brace,
    mm,
    rack,
    sheet,
    taken,
    wall_build,
)

SIDES = st.integers(mm(250), mm(2400))
THICK = st.integers(mm(3), mm(30))
KERFS = st.integers(0, mm(5))
TILTS = st.integers(10, 60)
PRESETS = st.sampled_from(five_builds())
STOCK = {each.key: each for each in preset_stock()}


def outcome(made, width, height, stock=STOCK):
    """Take off, or give back the refusal."""
    try:
        return take_off(made, NominalSize(width, height), stock)
    except TakeoffError as refused:
        return refused


def tried(made, width, height, stock=STOCK):
    """Take off, leaving out the sizes that are refused."""
    panel = outcome(made, width, height, stock)
    assume(not isinstance(panel, TakeoffError))
    return panel


@given(PRESETS, SIDES, SIDES)
def test_mass_is_the_sum_of_its_lines(made, width, height):
    mass = tried(made, width, height).mass
    assert all(line.kg > 0 for line in mass.lines)
    assert mass.total_kg == pytest.approx(sum(line.kg for line in mass.lines))
    assert mass.total_kg >= mass.panel_kg > 0


ANY_SIDE = st.integers(1, mm(20_000))


@given(PRESETS, SIDES | ANY_SIDE, SIDES | ANY_SIDE)
def test_any_size_is_taken_off_or_refused_with_a_sentence(made, width, height):
    panel = outcome(made, width, height)
    if isinstance(panel, TakeoffError):
        assert panel.problems
        assert all(p.field and p.message.endswith(".") for p in panel.problems)
    else:
        assert all(part.cut_length_ticks > 0 for part in panel.parts)
        assert all(piece.width_ticks > 0 for piece in panel.fills)


@given(PRESETS, SIDES, SIDES)
def test_finished_panel_is_never_smaller_than_its_frame(made, width, height):
    panel = tried(made, width, height)
    assert panel.finished.width_ticks >= panel.frame.width_ticks
    assert panel.finished.height_ticks >= panel.frame.height_ticks
    inside = made.hanging is Hanging.EDGE
    assert (panel.finished.width_ticks < width) == inside


@given(PRESETS, SIDES, SIDES)
def test_every_part_on_the_panel_lies_inside_the_frame(made, width, height):
    panel = tried(made, width, height)
    frame = panel.frame
    boxes = [box for part in panel.parts if part.role != "foot" for box in part.places]
    for box in boxes:
        assert min(box.x_ticks, box.y_ticks, box.z_ticks) >= 0
        assert box.x_ticks + box.width_ticks <= frame.width_ticks
        assert box.y_ticks + box.height_ticks <= frame.height_ticks
        assert box.z_ticks + box.depth_ticks <= frame.depth_ticks


@given(PRESETS, SIDES, SIDES)
def test_centre_of_mass_lies_inside_the_frame_on_its_middle_line(made, width, height):
    panel = tried(made, width, height)
    centre = panel.mass.centre
    assert abs(2 * centre.x_ticks - panel.frame.width_ticks) <= 4
    assert 0 < centre.y_ticks < panel.frame.height_ticks
    assert 0 < centre.z_ticks < panel.frame.depth_ticks


@given(SIDES, SIDES, THICK, st.sampled_from(Joint))
def test_every_joint_holds_the_ring_between_outside_and_opening(
    width, height, thick, joint
):
    ply = sheet(thickness_ticks=thick, length_ticks=0)
    panel = taken(build(joint=joint), width, height, rack(ply))
    clear = panel.clear
    ring = width * height - clear.width_ticks * clear.height_ticks
    volume = ring * mm(100) * 3.125e-6**3
    assert panel.mass.panel_kg == pytest.approx(550 * volume, rel=1e-9)


@given(SIDES, SIDES, THICK)
def test_wood_is_the_same_whichever_pair_runs_through(width, height, thick):
    stock = rack(sheet(thickness_ticks=thick, length_ticks=0))
    runs = {
        taken(build(through=through), width, height, stock).count_of(Driver.FRAME_METRE)
        for through in Through
    }
    assert len(runs) == 1


@given(SIDES, SIDES)
def test_turning_a_panel_turns_its_frame(width, height):
    upright = taken(build(through=Through.WIDTH), width, height)
    lying = taken(build(through=Through.HEIGHT), height, width)
    rail, stile = upright.parts
    other_rail, other_stile = lying.parts
    assert rail.cut_length_ticks == other_stile.cut_length_ticks
    assert stile.cut_length_ticks == other_rail.cut_length_ticks
    assert upright.mass.panel_kg == pytest.approx(lying.mass.panel_kg)


@given(st.integers(mm(50), mm(400)), THICK, KERFS, TILTS)
def test_a_bevelled_rip_conserves_material(strip, thick, kerf, tilt):
    assume(strip > narrowest_for_pair(thick, kerf_ticks=kerf, bevel_deg=tilt))
    pair = bevel_pair(strip, thick, kerf_ticks=kerf, bevel_deg=tilt)
    sawdust = kerf / math.cos(math.radians(tilt)) * thick
    kept = (pair.long_ticks + pair.short_ticks) * thick
    # both faces are rounded to a tick: one tick of the thickness at most
    assert kept + sawdust == pytest.approx(strip * thick, abs=thick)
    assert pair.long_ticks >= pair.short_ticks > 0


@given(st.integers(mm(50), mm(400)), THICK, KERFS, TILTS)
def test_strip_for_a_pair_gives_that_pair(long, thick, kerf, tilt):
    strip = strip_for_pair(long, thick, kerf_ticks=kerf, bevel_deg=tilt)
    assume(strip > narrowest_for_pair(thick, kerf_ticks=kerf, bevel_deg=tilt))
    pair = bevel_pair(strip, thick, kerf_ticks=kerf, bevel_deg=tilt)
    assert abs(pair.long_ticks - long) <= 1


@given(st.integers(1, mm(3000)), st.integers(1, mm(500)), KERFS)
def test_rips_and_their_kerfs_use_the_sheet_up(width, strip, kerf):
    rips = rips_from_width(width, strip, kerf)
    assert rips.used_ticks + rips.left_ticks == width
    assert rips.left_ticks >= 0
    assert rips.left_ticks < strip + kerf or rips.count == 0


@given(st.integers(0, mm(50)), st.integers(mm(100), mm(3000)), st.integers(1, 12))
def test_even_places_are_mirrored(first, span, count):
    last = first + span
    places = evenly(first, last, count)
    assert len(places) == count
    assert sorted(places) == list(places)
    pairs = zip(places, reversed(places), strict=True)
    assert all(abs(a + b - first - last) <= 1 for a, b in pairs)


@given(SIDES, st.integers(1, mm(2400)), st.integers(0, mm(100)))
def test_panel_slid_to_its_end_stays_over_its_cleat(clear, span, margin):
    assume(span <= clear)
    travel = side_travel(clear, span, margin)
    assert 0 <= 2 * travel <= clear - span
    assert travel == 0 or travel <= span / 2 - margin


@given(SIDES, SIDES, st.integers(mm(20), mm(120)), st.integers(mm(200), mm(900)))
def test_spread_braces_leave_no_bay_over_the_span(width, height, strip, span):
    spread = brace(strip_ticks=strip, position=Position.SPREAD, max_span_ticks=span)
    panel = tried(build(braces=(spread,)), width, height, rack())
    edges = [mm(15)]
    for box in sorted(b.y_ticks for p in panel.parts[2:] for b in p.places):
        edges += [box, box + strip]
    edges.append(height - mm(15))
    bays = [high - low for low, high in zip(edges[::2], edges[1::2], strict=True)]
    assert max(bays) <= span + 1
    assert max(bays) - min(bays) <= 1


@given(SIDES, SIDES)
def test_a_refusal_names_a_size_that_works(width, height):
    made = build(
        braces=(
            brace(name="top", position=Position.TIGHT_TOP),
            brace(name="low", position=Position.FRACTION, fraction=Decimal("0.2")),
            brace(name="middle"),
        )
    )
    height //= 8
    for _ in range(3):  # one refusal may hide the next one
        panel = outcome(made, width, height, rack())
        if isinstance(panel, TakeoffError):
            height = max(told(problem) for problem in panel.problems)
    assert take_off(made, NominalSize(width, height), rack()).parts


def told(problem):
    """The size that a refusal says would work, a millimetre over."""
    return mm(problem.message.split("make it ")[1].split(" mm")[0]) + mm(1)


@given(SIDES, SIDES, st.booleans())
def test_fill_and_braces_on_edge_fill_the_opening(width, height, two):
    braces = [brace(lies=Lies.ON_EDGE)]
    if two:
        braces.append(brace(name="post", runs=Runs.UPRIGHT, lies=Lies.FLAT,
                            strip_ticks=mm(20)))  # fmt: skip
        braces[0] = replace(braces[0], setback_ticks=mm(15))
    made = build(fill="wool", depth_ticks=mm(120), braces=tuple(braces))
    panel = tried(made, width, height, rack())
    area = panel.count_of(Driver.FILL_M2)
    lost = Decimal(panel.clear.width_ticks * mm(15)) * Decimal("0.000003125") ** 2
    assert area == panel.clear.face_m2 - lost


@given(SIDES, SIDES, st.integers(0, mm(80)), st.integers(0, mm(30)))
def test_cloths_cover_what_they_must(width, height, wrap, turn):
    made = wall_build(
        braces=(cleat_brace(),),
        front_fabric="cloth",
        back_fabric="cloth",
        back_style=BackStyle.OVER_BACK_EDGE,
        wrap_ticks=wrap,
        turn_ticks=turn,
        allow_seam=True,
    )
    front, back = tried(made, width, height, rack()).cloths
    assert front.width_ticks == width + 2 * (mm(100) + wrap)
    assert back.height_ticks == height + 2 * turn
    for cloth in (front, back):
        best = cloth.lays[0]
        assert best.across_ticks <= mm(1676)
        assert best.across_ticks * best.along_ticks >= (
            cloth.width_ticks * cloth.height_ticks
        )
