"""The checker itself: each thing that could be wrong with a plan is found."""

from dataclasses import replace

import pytest

from shared.nesting import (
    Bar,
    BarJob,
    BarPart,
    Pieces,
    Rect,
    Sheet,
    SheetJob,
    plan_bars,
    plan_sheets,
)
from tests.shared.nesting.checker import check_bars, check_sheets

BARS = BarJob((Bar("bar", 100, 1, 5),), (BarPart("a", 40, 4), BarPart("b", 15, 2)), 3)
SHEETS = SheetJob(
    (Sheet("sheet", 100, 60),),
    (Rect("a", 40, 30, 2), Rect("b", 45, 20, 2), Rect("c", 10, 15)),
    3,
    2,
)


def changed_strip(plan, number=0, **changes):
    layout = plan.layouts[0]
    plate = layout.plates[0]
    strips = list(plate.strips)
    strips[number] = replace(strips[number], **changes)
    plate = replace(plate, strips=tuple(strips))
    return replace(plan, layouts=(replace(layout, plates=(plate,)), *plan.layouts[1:]))


def changed_piece(plan, number, **changes):
    pieces = list(plan.layouts[0].plates[0].strips[0].pieces)
    pieces[number] = replace(pieces[number], **changes)
    return changed_strip(plan, pieces=tuple(pieces))


def first(plan):
    return plan.layouts[0].plates[0].strips[0]


BAD_SHEETS = {
    "a strip lost": lambda p: changed_strip(p, pieces=()),
    "no kerf between strips": lambda p: changed_strip(p, 1, at_ticks=31),
    "no kerf between pieces": lambda p: changed_piece(
        p, 1, at_ticks=first(p).pieces[1].at_ticks - 1
    ),
    "a piece too small": lambda p: changed_piece(p, 0, length_ticks=39),
    "a piece against its grain": lambda p: changed_piece(p, 0, turned=True),
    "another part": lambda p: changed_piece(p, 0, part="c"),
    "a strip too narrow": lambda p: changed_strip(p, width_ticks=29),
    "a count too high": lambda p: replace(
        p, layouts=(replace(p.layouts[0], count=2), *p.layouts[1:])
    ),
    "an offcut lost": lambda p: replace(
        p, layouts=(replace(p.layouts[0], offcuts=()), *p.layouts[1:])
    ),
    "a price too low": lambda p: replace(p, verdict=replace(p.verdict, price=0)),
    "a bound above the price": lambda p: replace(
        p, verdict=replace(p.verdict, lower_bound=9)
    ),
    "dearer than first-fit": lambda p: replace(
        p, verdict=replace(p.verdict, first_fit=0)
    ),
}
BAD_BARS = {
    "a piece lost": lambda p: replace(p, patterns=p.patterns[1:]),
    "a piece too many": lambda p: replace(
        p,
        patterns=(
            replace(p.patterns[0], pieces=(*p.patterns[0].pieces, Pieces("a", 1))),
            *p.patterns[1:],
        ),
    ),
    "more bars than there are": lambda p: replace(
        p, patterns=(replace(p.patterns[0], count=6), *p.patterns[1:])
    ),
    "another length left": lambda p: replace(
        p, patterns=(replace(p.patterns[0], left_ticks=1), *p.patterns[1:])
    ),
}


@pytest.mark.parametrize("spoil", BAD_SHEETS.values(), ids=BAD_SHEETS.keys())
def test_a_bad_plan_of_sheets_is_found(spoil):
    plan = plan_sheets(SHEETS)
    assert check_sheets(SHEETS, plan) == []
    assert check_sheets(SHEETS, spoil(plan)) != []


@pytest.mark.parametrize("spoil", BAD_BARS.values(), ids=BAD_BARS.keys())
def test_a_bad_plan_of_bars_is_found(spoil):
    plan = plan_bars(BARS)
    assert check_bars(BARS, plan) == []
    assert check_bars(BARS, spoil(plan)) != []
