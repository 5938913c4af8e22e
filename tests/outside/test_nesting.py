"""How many strips a sheet gives, halved and whole, against figures worked out by hand.

Kerf 1/8 in: several general woodworking pages agree, no standard does [S]; the strips are
n = floor((B + k) / (w + k)) [D]; halving before ripping is common practice [CP]. All
exact, in ticks. Bevelled pairs: plane geometry [D], to the tick's own tolerance.
"""

from decimal import Decimal

import pytest

from shared.length import TICKS_PER_INCH as INCH
from shared.length import TICKS_PER_MM as MM
from shared.length import from_inches, from_mm, to_inches, to_mm
from shared.nesting import (
    Halving,
    Pair,
    Rect,
    Sheet,
    SheetJob,
    Step,
    plan_sheets,
    saw_sheets,
)
from tests.shared.nesting.checker import check_sheets

KERF = INCH // 8


def strips(length, width, strip, count, *, kerf=KERF, halving=Halving.WHOLE):
    """Plan strips as long as what the sheet gives."""
    sheet = Sheet("sheet", length, width)
    whole = SheetJob((sheet,), (Rect("any", kerf, kerf),), kerf, halving=halving)
    long, _ = whole.plate_of(sheet)
    job = SheetJob(
        (sheet,), (Rect("strip", long, strip, count),), kerf, halving=halving
    )
    plan = plan_sheets(job)
    assert check_sheets(job, plan) == []
    return plan


@pytest.mark.parametrize(
    ("length", "width", "strip", "kerf", "left_after_last_kerf"),
    [
        # 45.25 in used, 2.75 in left before the freeing cut, 2.625 in usable.
        (96 * INCH, 48 * INCH, 4 * INCH, KERF, from_inches(2.625)),
        # The remainder of 88.0 mm is before the freeing cut.
        (
            2440 * MM,
            1220 * MM,
            100 * MM,
            from_mm(Decimal("3.2")),
            from_mm(Decimal("84.8")),
        ),
    ],
)
def test_eleven_strips_and_what_is_left(
    length, width, strip, kerf, left_after_last_kerf
):
    plan = strips(length, width, strip, 11, kerf=kerf)
    assert (plan.sheet_count, plan.strip_count) == (1, 11)
    assert [o.width_ticks for o in plan.layouts[0].offcuts] == [left_after_last_kerf]
    assert strips(length, width, strip, 12, kerf=kerf).sheet_count == 2


def test_halved_lengthwise_there_are_ten_and_three_and_five_sixteenths_left():
    sheet = 96 * INCH, 48 * INCH, 4 * INCH
    plan = strips(*sheet, 10, halving=Halving.LENGTHWISE)
    assert plan.sheet_count == 1
    assert {p.width_ticks for p in plan.layouts[0].plates} == {from_inches(23.9375)}
    assert {o.width_ticks for o in plan.layouts[0].offcuts} == {from_inches(3.3125)}
    assert strips(*sheet, 11, halving=Halving.LENGTHWISE).sheet_count == 2


def test_halved_across_all_rips_stay_and_rails_still_fit():
    sheet = Sheet("sheet", 96 * INCH, 48 * INCH)
    rails = Rect("rail", from_inches(46.75), 4 * INCH, 22)
    job = SheetJob((sheet,), (rails,), KERF, halving=Halving.ACROSS)
    plan = plan_sheets(job)
    assert check_sheets(job, plan) == []
    assert {p.length_ticks for p in plan.layouts[0].plates} == {from_inches(47.9375)}
    assert (plan.sheet_count, plan.strip_count) == (1, 22)


PAIRS = [  # strip, thickness, kerf, each long face, each short, in inches, at 45° [D]
    ("7.25", "0.75", "0.125", 3.911612, 3.161612),
    ("7.25", "0.75", "0.09375", 3.933709, 3.183709),
    ("5.5", "0.703", "0.125", 3.013112, 2.310112),
]


@pytest.mark.parametrize(("strip", "thick", "kerf", "long", "short"), PAIRS)
def test_the_fence_of_a_tilted_rip_in_inches(strip, thick, kerf, long, short):
    width, thickness, k = (from_inches(Decimal(n)) for n in (strip, thick, kerf))
    pair = Pair(45, thickness)
    faces = pair.faces(width, k)
    assert to_inches(faces.long_ticks) == pytest.approx(long, abs=1e-4)
    assert to_inches(faces.short_ticks) == pytest.approx(short, abs=1e-4)
    assert pair.blank_ticks(faces.long_ticks, k) == pytest.approx(width, abs=2)
    job = SheetJob(
        (Sheet("sheet", 96 * INCH, 48 * INCH),),
        (Rect("cleat", 12 * INCH, width, 7, pair=pair),),
        k,
    )
    (row,) = (r for r in saw_sheets(job, plan_sheets(job)) if r.step is Step.BEVEL)
    assert row.setting_ticks == faces.long_ticks


@pytest.mark.parametrize(("bevel", "long_sum"), [(45, 163.4745), (30, 156.6973)])
def test_the_long_faces_of_a_metric_pair(bevel, long_sum):
    # W 150, t 18, k 3.2 mm: sum of both long faces [D], tolerance 2e-3 mm a face
    faces = Pair(bevel, 18 * MM).faces(150 * MM, from_mm(Decimal("3.2")))
    assert to_mm(2 * faces.long_ticks) == pytest.approx(long_sum, abs=4e-3)


def test_the_blank_for_two_cleats_of_a_wanted_long_face():
    # L 3.000, t 0.703, k 0.125 in: W 5.473777 in [D], tolerance 2e-4 in
    pair = Pair(45, from_inches(Decimal("0.703")))
    width = pair.blank_ticks(3 * INCH, KERF)
    assert to_inches(width) == pytest.approx(5.473777, abs=2e-4)
