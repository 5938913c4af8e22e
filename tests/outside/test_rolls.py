"""Fabric on the roll against figures worked out by hand, and laws that were proved.

Marks: CP = common practice, D = derived here, M = the paper is named from memory.
"""

import random

import pytest

from shared.length import TICKS_PER_INCH as INCH
from shared.length import TICKS_PER_MM as MM
from shared.nesting import Effort
from shared.nesting.rolls import (
    Lay,
    Laying,
    Roll,
    RollJob,
    RollPart,
    part_of,
    plan_rolls,
)
from tests.shared.nesting.rolls.checker import check_rolls

YARD = 36 * INCH
HALF = INCH // 2


def planned(job, work=1000):
    plan = plan_rolls(job, Effort(work=work))
    assert check_rolls(job, plan) == []
    return plan


@pytest.mark.parametrize(
    ("bolt", "selvedge", "across", "along"),
    [
        # Cut size 36 × 60 in, of a 24 × 48 × 4 in panel wrapped 2 in [CP]. Exact.
        (54 * INCH, 0, 36 * INCH, 60 * INCH),
        (60 * INCH, HALF, 36 * INCH, 60 * INCH),
        (60 * INCH, 0, 60 * INCH, 36 * INCH),
    ],
)
def test_one_cloth_of_36_by_60_inches(bolt, selvedge, across, along):
    roll = Roll("bolt", bolt, selvedge)
    cloth = part_of("front", 36 * INCH, 60 * INCH, may_turn=True)
    plan = planned(RollJob((roll,), (cloth,)))
    (piece,) = plan.rolls[0].pieces
    assert (piece.across_ticks, piece.along_ticks) == (across, along)
    assert (plan.cut_ticks, plan.verdict.proven) == (along, True)


def test_five_thirds_of_a_yard_and_one_yard():
    # 60 in = 1.667 yd, turned on 60 usable inches 1.000 yd [CP]; the price follows. Exact.
    cloth = part_of("front", 36 * INCH, 60 * INCH, may_turn=True)
    for width, third_yards in ((54, 5), (60, 3)):
        roll = Roll("bolt", width * INCH, price=1200)
        plan = planned(RollJob((roll,), (cloth,), price_ticks=YARD))
        assert plan.cost == 400 * third_yards


@pytest.mark.parametrize("panels", [1, 3])
def test_cloths_of_900_by_1500_millimetres_lie_one_by_one(panels):
    # Two of 900 mm need 1800 mm; a 1676 mm bolt (66 in) has no room for two [CP, D].
    cloth = part_of("front", 900 * MM, 1500 * MM, panels)
    plan = planned(RollJob((Roll("bolt", 66 * INCH, HALF),), (cloth,)))
    assert plan.cut_ticks == panels * 1500 * MM
    assert plan.verdict.proven


@pytest.mark.parametrize("repeat", [64 * MM, 320 * MM, 25 * INCH])
def test_a_pattern_costs_up_to_a_repeat_for_each_row(repeat):
    # Rows begin ⌈L / R⌉ · R apart, the last ends at L: (n − 1) ⌈L / R⌉ R + L [D]. Exact.
    cloth = part_of("front", 900 * MM, 1500 * MM, 4)
    plan = planned(RollJob((Roll("bolt", 54 * INCH),), (cloth,), repeat_ticks=repeat))
    between = -(-1500 * MM // repeat) * repeat
    assert plan.cut_ticks == 3 * between + 1500 * MM
    assert plan.verdict.proven


def test_drops_for_a_cloth_wider_than_its_bolt():
    # 96 in on 53 usable with 1/2 in seams: ⌈(96 − 1) / (53 − 1)⌉ = 2 drops of 48 1/2 in,
    # since one seam takes 1/2 in of both [D]. Exact.
    wide = RollPart(
        "wide", (Lay(96 * INCH, 60 * INCH),), may_seam=True, seam_ticks=HALF
    )
    plan = planned(RollJob((Roll("bolt", 54 * INCH, HALF),), (wide,)))
    drops = plan.rolls[0].pieces
    assert [drop.across_ticks for drop in drops] == [48 * INCH + HALF] * 2
    assert plan.cut_ticks == 2 * 60 * INCH


def by_level(sizes, *, first_fit):
    """Return the length that next-fit or first-fit decreasing height takes on width 1000.

    Written from the definitions, apart from the engine's.
    """
    levels = []
    for across, along in sorted(sizes, key=lambda s: (-s[1], -s[0])):
        open_levels = levels if first_fit else levels[-1:]
        for level in open_levels:
            if level[0] + across <= 1000:
                level[0] += across
                break
        else:
            levels.append([across, along])
    return sum(along for _, along in levels)


def cut_apart(pieces, width, length, *, seed):
    """Cut a rectangle apart at random, so that its length is the optimum [D]."""
    r = random.Random(seed)
    rects = [(width, length)]
    while len(rects) < pieces:
        across, along = rects.pop(
            max(range(len(rects)), key=lambda i: rects[i][0] * rects[i][1])
        )
        share = r.uniform(0.25, 0.75)
        if across > along:
            cut = round(across * share)
            rects += [(cut, along), (across - cut, along)]
        else:
            cut = round(along * share)
            rects += [(across, cut), (across, along - cut)]
    return rects


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("laying", Laying)
def test_the_guarantees_of_levels_hold(seed, laying):
    # NFDH ≤ 2 OPT + h_max, FFDH ≤ 1.7 OPT + h_max: Coffman, Garey, Johnson and Tarjan,
    # SIAM Journal on Computing 9 (1980), 808-826 [M]. OPT is known: a rectangle cut apart.
    optimum = 1500
    sizes = cut_apart(40, 1000, optimum, seed=seed)
    tallest = max(along for _, along in sizes)
    next_fit, fit = (by_level(sizes, first_fit=f) for f in (False, True))
    parts = tuple(part_of(f"p{i}", *size) for i, size in enumerate(sizes))
    job = RollJob((Roll("roll", 1000),), parts, laying=laying)
    plan = planned(job, work=100)
    assert plan.verdict.first_fit <= fit <= 1.7 * optimum + tallest
    assert next_fit <= 2 * optimum + tallest
    assert optimum <= plan.cut_ticks <= fit
    if laying is not Laying.ROWS:  # the bound on rows is about rows alone
        assert plan.verdict.lower_bound <= optimum
