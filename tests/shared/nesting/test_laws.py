"""Laws of every plan, on hundreds of jobs; NESTING_EXAMPLES=5000 tries more of each."""

import os

from hypothesis import given, settings
from hypothesis import strategies as st

from shared.nesting import (
    Bar,
    BarJob,
    BarPart,
    Effort,
    Halving,
    Rect,
    Sheet,
    SheetJob,
    plan_bars,
    plan_sheets,
)
from tests.shared.nesting.checker import check_bars, check_sheets
from tests.shared.nesting.exhaustive import fewest_sheets

EXAMPLES = int(os.environ.get("NESTING_EXAMPLES", "150"))
SMALL = Effort(work=8)
KERF = st.sampled_from([0, 1, 3])
TRIM = st.sampled_from([0, 0, 2, 5])
PRICE = st.sampled_from([1, 1, 3, 7])


@st.composite
def bar_jobs(draw):
    kerf = draw(KERF)
    bars = [Bar("B", draw(st.integers(60, 120)), draw(PRICE))]
    bars += [
        Bar(f"b{i}", draw(st.integers(20, 90)), draw(PRICE), draw(st.integers(0, 3)))
        for i in range(draw(st.integers(0, 3)))
    ]
    parts = [
        BarPart(f"p{i}", draw(st.integers(max(1, kerf), 50)), draw(st.integers(1, 9)))
        for i in range(draw(st.integers(1, 8)))
    ]
    return BarJob(tuple(bars), tuple(parts), kerf, draw(TRIM))


@st.composite
def sheet_jobs(draw):
    kerf = draw(KERF)
    # Halved and trimmed, the smallest still holds the largest piece.
    sheets = [Sheet("S", draw(st.integers(70, 120)), draw(st.integers(54, 90)), 5)]
    for i in range(draw(st.integers(0, 2))):
        sides = draw(st.integers(20, 100)), draw(st.integers(20, 60))
        sheets.append(
            Sheet(f"s{i}", *sides, draw(PRICE), draw(st.sampled_from([None, 0, 2])))
        )
    sides = st.integers(max(1, kerf), 20)
    parts = [
        Rect(
            f"p{i}",
            draw(sides),
            draw(sides),
            draw(st.integers(1, 6)),
            draw(st.booleans()),
        )
        for i in range(draw(st.integers(1, 6)))
    ]
    return SheetJob(
        tuple(sheets),
        tuple(parts),
        kerf,
        draw(TRIM),
        draw(st.sampled_from(Halving)),
        draw(st.booleans()),
    )


@settings(max_examples=EXAMPLES)
@given(bar_jobs())
def test_plans_of_bars_can_be_cut(job):
    assert check_bars(job, plan_bars(job, SMALL)) == []


@settings(max_examples=EXAMPLES)
@given(sheet_jobs())
def test_plans_of_sheets_can_be_cut(job):
    assert check_sheets(job, plan_sheets(job, SMALL)) == []


@st.composite
def few_pieces(draw):
    kerf = draw(KERF)
    sides = st.integers(max(1, kerf), 24)
    parts, left = [], 6
    while left and len(parts) < 4:
        count = draw(st.integers(1, min(3, left)))
        left -= count
        turns = len(parts) < 2 and draw(st.booleans())
        parts.append(Rect(f"p{len(parts)}", draw(sides), draw(sides), count, turns))
    sheet = Sheet("S", draw(st.integers(24, 50)), draw(st.integers(24, 50)))
    return SheetJob((sheet,), tuple(parts), kerf, may_trim_strips=draw(st.booleans()))


@settings(max_examples=EXAMPLES)
@given(few_pieces())
def test_no_plan_of_the_kind_beats_the_bound(job):
    best, verdict = fewest_sheets(job), plan_sheets(job).verdict
    assert verdict.lower_bound <= best <= verdict.price
    assert verdict.price == best
