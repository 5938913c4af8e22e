"""How many strips a sheet gives, halved and whole, against figures worked out by hand.

Kerf 1/8 in: several general woodworking pages agree, no standard does [S]; the strips are
n = floor((B + k) / (w + k)) [D]; halving before ripping is common practice [CP]. All
exact, in ticks.
"""

from decimal import Decimal

import pytest

from shared.length import TICKS_PER_INCH as INCH
from shared.length import TICKS_PER_MM as MM
from shared.length import from_inches, from_mm
from shared.nesting import Halving, Rect, Sheet, SheetJob, plan_sheets
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
