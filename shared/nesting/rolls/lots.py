"""Which rolls may be cut together, and in which sequence they are filled."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from shared.nesting.rolls.least import rates_of
from shared.nesting.rolls.model import Roll, RollJob
from shared.nesting.rolls.table import Table

Rolls = tuple[Roll, ...]


def lots_of(job: RollJob) -> list[Rolls]:
    """Return the sets of rolls of which one must give all: dye lots, or all together.

    A roll without a label matches no other, not even another of its kind.
    """
    rolls = tuple(roll for roll in job.rolls if roll.available != 0)
    if not job.one_lot:
        return [rolls]
    labels = dict.fromkeys(roll.lot for roll in rolls if roll.lot)
    lots = [tuple(roll for roll in rolls if roll.lot == label) for label in labels]
    return [*lots, *((_alone(roll),) for roll in rolls if not roll.lot)]


def narrower(rolls: Rolls) -> list[Rolls]:
    """Return the rolls as wide as each width at most, the widest left out step by step.

    Drops made for a narrower roll lie on wider ones as well: where those are too short
    for all, pieces are sewn that would else need no seam.
    """
    widths = sorted({roll.usable_ticks for roll in rolls}, reverse=True)
    return [tuple(r for r in rolls if r.usable_ticks <= width) for width in widths]


def _alone(roll: Roll) -> Roll:
    return roll if roll.is_endless else replace(roll, available=1)


def sequences(table: Table) -> list[tuple[int, ...]]:
    """Return sequences of kinds worth trying: the cheapest by area first.

    All of them; each endless one alone; all but one; those with an end before each.
    """
    rates = rates_of(table)

    def by_area(kind: int) -> tuple[Fraction, int]:
        return rates[kind] / table.kinds[kind].width, -(table.kinds[kind].room or 0)

    kinds = sorted(range(len(table.kinds)), key=by_area)
    endless = [k for k in kinds if table.kinds[k].room is None]
    ending = [k for k in kinds if table.kinds[k].room is not None]
    found = [tuple(kinds), *((k,) for k in endless), tuple(ending)]
    found += [(*ending, k) for k in endless]
    if len(kinds) > 2:
        found += [tuple(k for k in kinds if k != out) for out in kinds]
    found += [(*endless[:1], *_reversed(ending))]
    return [s for s in dict.fromkeys(found) if s]


def _reversed(kinds: Sequence[int]) -> Sequence[int]:
    return kinds[::-1]
