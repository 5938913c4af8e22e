"""Saw and joint geometry against worked figures.

Marks: S = the source's text was read, M = from memory, CP = common practice,
D = derived. Kerf: several general woodworking pages [S]; the rest is plane geometry
[D]. Ticks are 3.125 µm, so a figure is held to 1e-4 in or 2e-3 mm.
"""

import math

import pytest

from quotes.specs.engine.geometry import (
    bevel_pair,
    halved,
    rips_from_width,
    strip_for_pair,
)
from quotes.specs.engine.model import Joint, Lies, PartRole, Runs, Through
from shared.length import to_inches, to_mm
from tests.factories.takeoff import brace, build, inch, mm, rack, sheet, taken

TOL_IN = 1e-4
TOL_MM = 2e-3


def test_full_and_thin_kerf_in_millimetres():
    # 1/8 in = 3.175 mm, 3/32 in = 2.381 mm [S]
    assert to_mm(inch("0.125")) == 3.175
    assert to_mm(inch("0.09375")) == pytest.approx(2.381, abs=1e-3)


def test_eleven_four_inch_strips_from_a_48_inch_sheet():
    # n = floor((B + k) / (w + k)) [D]: 11, used 45.25 in, 2.75 in left, 2.625 after
    # the freeing cut; exact
    rips = rips_from_width(inch(48), inch(4), inch("0.125"))
    assert rips.count == 11
    assert rips.used_ticks == inch("45.25")
    assert rips.left_ticks == inch("2.75")
    assert rips.left_ticks - inch("0.125") == inch("2.625")


def test_eleven_strips_from_a_metric_sheet():
    rips = rips_from_width(mm(1220), mm(100), mm("3.2"))  # [D], exact
    assert (rips.count, rips.left_ticks) == (11, mm("88.0"))


PAIRS = [  # strip, thickness, kerf; long sum, each long, each short, inches [D]
    ("7.25", "0.75", "0.125", 7.823223, 3.911612, 3.161612),
    ("7.25", "0.75", "0.09375", 7.867417, 3.933709, 3.183709),
    ("5.5", "0.703", "0.125", 6.026223, 3.013112, 2.310112),
]


@pytest.mark.parametrize(("strip", "thick", "kerf", "total", "long", "short"), PAIRS)
def test_bevelled_pair_at_45_degrees_in_inches(strip, thick, kerf, total, long, short):
    pair = bevel_pair(inch(strip), inch(thick), kerf_ticks=inch(kerf), bevel_deg=45)
    assert to_inches(pair.long_sum_ticks) == pytest.approx(total, abs=TOL_IN)
    assert to_inches(pair.long_ticks) == pytest.approx(long, abs=TOL_IN)
    assert to_inches(pair.short_ticks) == pytest.approx(short, abs=TOL_IN)


@pytest.mark.parametrize(("tilt", "total"), [(45, 163.4745), (30, 156.6973)])
def test_bevelled_pair_in_millimetres(tilt, total):
    # W 150, t 18, k 3.2 mm [D]
    pair = bevel_pair(mm(150), mm(18), kerf_ticks=mm("3.2"), bevel_deg=tilt)
    assert to_mm(pair.long_sum_ticks) == pytest.approx(total, abs=TOL_MM)


def test_halves_of_a_metric_pair():
    pair = bevel_pair(mm(150), mm(18), kerf_ticks=mm("3.2"), bevel_deg=45)  # [D]
    assert to_mm(pair.long_ticks) == pytest.approx(81.7373, abs=TOL_MM)
    assert to_mm(pair.short_ticks) == pytest.approx(63.7373, abs=TOL_MM)


def test_strip_needed_for_two_cleats():
    # W = 2 L − t + k √2: L 3.000, t 0.703, k 0.125 -> 5.473777 in, 139.034 mm [D]
    strip = strip_for_pair(
        inch(3), inch("0.703"), kerf_ticks=inch("0.125"), bevel_deg=45
    )
    assert to_inches(strip) == pytest.approx(5.473777, abs=TOL_IN)
    assert to_mm(strip) == pytest.approx(139.034, abs=TOL_MM)


def test_area_check_of_a_pair():
    # (long + short) / 2 · t for both = (W − k √2) t [D, random-area test]
    pair = bevel_pair(
        inch("7.25"), inch("0.75"), kerf_ticks=inch("0.125"), bevel_deg=45
    )
    section = (pair.long_ticks + pair.short_ticks) * inch("0.75")
    whole = (inch("7.25") - inch("0.125") * math.sqrt(2)) * inch("0.75")
    assert section == pytest.approx(whole, rel=2e-5)  # a tick in each face


FRAMES = [  # outside width and height, thickness; stile, brace, total; inches [D, CP]
    ("24", "48", "46.75", "22.75"),
    ("48", "24", "22.75", "46.75"),
]


@pytest.mark.parametrize(("width", "height", "stile", "across"), FRAMES)
def test_butt_jointed_frame_in_inches(width, height, stile, across):
    ply = sheet(thickness_ticks=inch("0.625"))
    made = build(depth_ticks=inch(4), braces=(brace(),))
    panel = taken(made, inch(width), inch(height), rack(ply))
    rail, stiles, cross = panel.parts[:3]
    assert (rail.count, rail.cut_length_ticks) == (2, inch(width))
    assert (stiles.count, stiles.cut_length_ticks) == (2, inch(stile))
    assert cross.cut_length_ticks == inch(across)
    assert 2 * (rail.cut_length_ticks + stiles.cut_length_ticks) == inch("141.5")


def test_butt_jointed_frame_in_millimetres():
    panel = taken(build(braces=(brace(),)))  # 600 × 1200, 15 mm [D, CP], exact
    rail, stile, cross = panel.parts
    assert rail.cut_length_ticks == mm(600)
    assert stile.cut_length_ticks == mm(1170)
    assert cross.cut_length_ticks == mm(570)
    assert 2 * (rail.cut_length_ticks + stile.cut_length_ticks) == mm(3540)


def test_upright_brace_and_clear_opening():
    # brace parallel to H: H − 2 t; clear (W − 2 t) × (H − 2 t) [D]
    upright = brace(runs=Runs.UPRIGHT, lies=Lies.ON_EDGE)
    panel = taken(build(braces=(upright,)))
    assert panel.parts_of(PartRole.BRACE)[0].cut_length_ticks == mm(1170)
    assert (panel.clear.width_ticks, panel.clear.height_ticks) == (mm(570), mm(1170))


@pytest.mark.parametrize("through", Through)
def test_total_length_is_the_same_whichever_pair_runs_through(through):
    rail, stile = taken(build(through=through)).parts  # 2 W + 2 H − 4 t [D], exact
    assert 2 * (rail.cut_length_ticks + stile.cut_length_ticks) == mm(3540)


def test_mitred_and_lapped_frames_hold_as_much_wood_as_a_butted_one():
    # plane geometry [D]: all three cover the same ring of W × H less its opening
    masses = {joint: taken(build(joint=joint)).mass.panel_kg for joint in Joint}
    assert masses[Joint.MITRE] == pytest.approx(masses[Joint.BUTT], rel=1e-12)
    assert masses[Joint.HALF_LAP] == pytest.approx(masses[Joint.BUTT], rel=1e-12)


def test_halving_a_sheet_lengthwise_costs_a_strip():
    # 48 in, kerf 1/8: halves of 23-15/16, five 4 in strips each (10, not 11),
    # 3-5/16 left in each half after the freeing cut [CP], exact
    half = halved(inch(48), inch("0.125"))
    rips = rips_from_width(half, inch(4), inch("0.125"))
    assert half == inch("23.9375")
    assert rips.count == 5
    assert rips.left_ticks - inch("0.125") == inch("3.3125")


def test_halving_a_sheet_across_keeps_the_rails_and_the_rips():
    half = halved(inch(96), inch("0.125"))  # 47-15/16 [CP], exact
    assert half == inch("47.9375")
    assert half >= inch("46.75")


def test_a_blank_tells_rips_from_whole_and_halved_sheets():
    ply = sheet(
        thickness_ticks=inch("0.625"), width_ticks=inch(48), length_ticks=inch(96)
    )
    made = build(depth_ticks=inch(4), kerf_ticks=inch("0.125"))
    rails = taken(made, inch(24), inch(48), rack(ply)).blanks[0]
    assert (rails.per_sheet, rails.per_halved_sheet) == (11, 10)  # [CP], exact
