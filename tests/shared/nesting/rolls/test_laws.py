"""Laws of every roll plan, on generated jobs; NESTING_EXAMPLES=2000 tries more."""

import os
from decimal import Decimal
from fractions import Fraction
from itertools import product
from math import ceil

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from shared.nesting import Effort, NestingError
from shared.nesting.effort import Meter
from shared.nesting.rolls import (
    Lay,
    Laying,
    Roll,
    RollJob,
    RollPart,
    part_of,
    plan_rolls,
)
from shared.nesting.rolls.bounds import Relaxation
from shared.nesting.rolls.table import kinds_of, table_of, variants
from tests.shared.nesting.rolls.checker import check_rolls

SMALL = Effort(work=15)
EXAMPLES = int(os.environ.get("NESTING_EXAMPLES", "45"))


@st.composite
def rolls(draw):
    endless = Roll(
        "bolt",
        draw(st.integers(60, 90)),
        draw(st.sampled_from([0, 2])),
        price=draw(st.sampled_from([1, 3])),
        lot=draw(st.sampled_from(["", "A"])),
    )
    others = [
        Roll(
            f"end{i}",
            draw(st.integers(40, 90)),
            length_ticks=draw(st.integers(20, 200)),
            price=draw(st.sampled_from([0, 2])),
            priced_whole=draw(st.booleans()),
            available=draw(st.sampled_from([0, 1, 2, None])),
            lot=draw(st.sampled_from(["", "A", "B"])),
        )
        for i in range(draw(st.integers(0, 3)))
    ]
    return (*others, endless)


@st.composite
def parts(draw):
    many = []
    for i in range(draw(st.integers(1, 6))):
        across, along = draw(st.integers(5, 110)), draw(st.integers(5, 60))
        lays = [Lay(across, along)]
        if draw(st.booleans()):
            lays.append(Lay(along, across, turned=True))
        group = draw(st.sampled_from(["", "", "same"])) if len(lays) > 1 else ""
        many.append(
            RollPart(
                f"p{i}",
                tuple(lays),
                draw(st.integers(1, 5)),
                group,
                offset_ticks=draw(st.integers(0, 4)),
                may_seam=True,
                seam_ticks=draw(st.integers(0, 3)),
                for_repairs=draw(st.integers(0, 5)) == 0,
            )
        )
    return tuple(many)


@st.composite
def jobs(draw):
    rules = {
        "repeat_ticks": draw(st.sampled_from([None, None, 5, 16])),
        "gap_ticks": draw(st.sampled_from([0, 0, 2])),
        "trim_ticks": draw(st.sampled_from([0, 3])),
        "spare_percent": draw(st.sampled_from([0, 5, Decimal("2.5"), 100])),
        "one_lot": draw(st.booleans()),
        "row_ticks": draw(st.sampled_from([None, 70])),
        "laying": draw(st.sampled_from(Laying)),
        "price_ticks": 100,
    }
    try:
        return RollJob(draw(rolls()), draw(parts()), **rules)
    except NestingError:
        assume(False)


@settings(max_examples=EXAMPLES)
@given(jobs())
def test_plans_can_be_cut(job):
    assert check_rolls(job, plan_rolls(job, SMALL)) == []


@st.composite
def few_pieces(draw):
    width = draw(st.integers(4, 9))
    sides = st.integers(1, width)
    pieces = [
        part_of(
            f"p{i}", draw(sides), draw(st.integers(1, 6)), may_turn=draw(st.booleans())
        )
        for i in range(draw(st.integers(1, 4)))
    ]
    try:
        return RollJob((Roll("roll", width),), tuple(pieces), laying=Laying.ROWS)
    except NestingError:
        assume(False)


@settings(max_examples=EXAMPLES)
@given(few_pieces())
def test_no_rows_are_shorter_than_the_bound(job):
    verdict = plan_rolls(job, Effort(work=200)).verdict
    assert verdict.lower_bound <= _shortest_rows(job) == verdict.price


def _shortest_rows(job):
    """Try every sharing out of pieces into rows, each way they may lie."""
    (roll,) = job.rolls
    best = None
    for lying in product(*(part.lays for part in job.parts)):
        if any(lay.across_ticks > roll.width_ticks for lay in lying):
            continue
        for places in product(range(len(lying)), repeat=len(lying)):
            rows = [
                [lay for lay, p in zip(lying, places, strict=True) if p == place]
                for place in set(places)
            ]
            if all(
                sum(x.across_ticks for x in row) <= roll.width_ticks for row in rows
            ):
                length = sum(max(x.along_ticks for x in row) for row in rows)
                best = length if best is None else min(best, length)
    return best


@settings(max_examples=EXAMPLES)
@given(few_pieces())
def test_no_way_of_laying_pieces_down_is_shorter_than_the_bound(job):
    stacks = RollJob(job.rolls, job.parts, laying=Laying.FREE)
    bound = plan_rolls(stacks, Effort(work=200)).verdict.lower_bound
    assert not _lies_within(job, bound - 1)


@settings(max_examples=EXAMPLES)
@given(few_pieces())
def test_each_relaxation_is_a_bound_by_itself(job):
    kinds = kinds_of(job, job.rolls)
    (variant,), _ = variants(job, job.rolls)
    table = table_of(job, kinds, variant)
    bounds = []
    for by_rows in (True, False):
        relaxation = Relaxation(table, by_rows=by_rows)
        relaxation.run(Meter(Effort()), Fraction(10**9))
        bounds.append(ceil(relaxation.bound))
    assert bounds[0] <= _shortest_rows(job)
    assert not _lies_within(job, bounds[1] - 1)


def _lies_within(job, length):
    """Tell whether the pieces lie on the roll in that length, tried at every tick."""
    (roll,) = job.rolls

    def lie(waiting, placed):
        if not waiting:
            return True
        for lay in waiting[0].lays:
            w, h = lay.across_ticks, lay.along_ticks
            for x, y in product(range(roll.width_ticks - w + 1), range(length - h + 1)):
                box = x, y, x + w, y + h
                if all(_are_apart(box, other) for other in placed) and lie(
                    waiting[1:], [*placed, box]
                ):
                    return True
        return False

    return lie(job.parts, [])


def _are_apart(a, b):
    return a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
