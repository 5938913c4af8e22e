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
    Pair,
    Rect,
    Sheet,
    SheetJob,
    plan_bars,
    plan_sheets,
    saw_bars,
    saw_sheets,
)
from tests.shared.nesting.checker import check_bars, check_sheets
from tests.shared.nesting.exhaustive import fewest_sheets
from tests.shared.nesting.saw import sawn, sawn_bars

EXAMPLES = int(os.environ.get("NESTING_EXAMPLES", "150"))
SMALL = Effort(work=8)
KERF = st.sampled_from([0, 1, 3])
TRIM = st.sampled_from([0, 0, 2, 5])
PAIR = st.sampled_from([None, Pair(45, 5), Pair(45, 5), Pair(30, 6)])
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
            Sheet(
                f"s{i}",
                *sides,
                draw(PRICE),
                draw(st.sampled_from([None, 0, 2])),
                sawn=draw(st.booleans()),
            )
        )
    bevelled = draw(st.booleans())
    # A blank of 13 has a short face at any bevel here, with any kerf.
    sides = st.integers(13 if bevelled else max(1, kerf), 20)
    parts = [
        Rect(
            f"p{i}",
            draw(sides),
            draw(sides),
            draw(st.integers(1, 6)),
            draw(st.booleans()),
            draw(PAIR) if bevelled else None,
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
    plan = plan_bars(job, SMALL)
    assert check_bars(job, plan) == []
    freed, cuts = sawn_bars(job, saw_bars(job, plan))
    pieces = sum(p.count for p in job.parts)
    assert freed == {p.key: p.count for p in job.parts}
    assert pieces - plan.bar_count <= cuts <= pieces


@settings(max_examples=EXAMPLES)
@given(sheet_jobs())
def test_plans_of_sheets_can_be_cut(job):
    plan = plan_sheets(job, SMALL)
    assert check_sheets(job, plan) == []
    done, tilted, wrong = sawn(job, plan, saw_sheets(job, plan))
    assert wrong == []
    assert done == {p.key: p.count for p in job.parts}
    assert tilted == {p.key: p.count for p in job.parts if p.pair}


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
