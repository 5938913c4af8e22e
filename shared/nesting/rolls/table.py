"""A roll job as the search sees it: items with options, kinds of roll, cells.

A piece takes a cell: its width and one gap across; along, from a pattern line to the
next line that is free again, or its length and one gap where there is no pattern. Cells
side by side or one after the other then need nothing between them; rolls are one gap
wider for it, and what the last row has too much (its slack) is taken off its end.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import islice, product
from math import prod

from shared.nesting.rolls.model import (
    Lay,
    Roll,
    RollJob,
    groups_of,
    lays_that_fit,
    ways_of,
)

MOST_VARIANTS = 8

# The lays that each part may take, in the order of the job's parts.
Variant = tuple[tuple[Lay, ...], ...]


@dataclass(frozen=True, slots=True)
class Option:
    """One way an item may lie: its cell, and the slack in it."""

    item: int
    across: int
    along: int
    slack: int
    lay: Lay

    @property
    def area(self) -> int:
        """Return the cell's area."""
        return self.across * self.along


@dataclass(frozen=True, slots=True)
class Kind:
    """Rolls that are alike: width and length in cells, and what they cost.

    ``price`` is for a tick of length, or of the whole roll where ``whole``.
    """

    roll: Roll
    width: int
    room: int | None
    limit: int | None
    price: int
    whole: bool

    def cost(self, length: int) -> int:
        """Return what a length of it costs, trimmed end included."""
        return self.price if self.whole else self.price * length


@dataclass(frozen=True)
class Table:
    """Items of one variant, with their options and what is wanted of each."""

    job: RollJob
    kinds: tuple[Kind, ...]
    options: tuple[Option, ...]
    demand: tuple[int, ...]
    members: tuple[tuple[int, ...], ...]  # the parts of each item

    @cached_property
    def ways(self) -> tuple[tuple[int, ...], ...]:
        """Return each item's options, the longest along first."""
        ways: list[list[int]] = [[] for _ in self.demand]
        for index, option in enumerate(self.options):
            ways[option.item].append(index)
        for way in ways:
            way.sort(key=lambda index: -self.options[index].along)
        return tuple(tuple(way) for way in ways)

    @cached_property
    def area(self) -> tuple[int, ...]:
        """Return the area of each item's smallest cell."""
        return tuple(min(self.options[o].area for o in way) for way in self.ways)

    def is_handy(self, row: int) -> bool:
        """Tell whether a row of this length, in cells, can lie on the table."""
        return (
            self.job.row_ticks is None or row - self.least_slack <= self.job.row_ticks
        )

    @cached_property
    def most_slack(self) -> int:
        """Return the most that the last row's end can be shorter than its cells."""
        return max(option.slack for option in self.options)

    @cached_property
    def least_slack(self) -> int:
        """Return how much shorter than its cells every row is."""
        return min(option.slack for option in self.options)


def kinds_of(job: RollJob, rolls: Sequence[Roll]) -> tuple[Kind, ...]:
    """Return what can be cut from, empty rolls left out."""
    kinds = []
    for roll in rolls:
        room = job.room_along(roll)
        if roll.available == 0 or (room is not None and room <= 0):
            continue
        kinds.append(
            Kind(
                roll=roll,
                width=roll.usable_ticks + job.gap_ticks,
                room=room,
                limit=None if roll.is_endless else roll.available,
                price=roll.price * (job.price_ticks if roll.priced_whole else 1),
                whole=roll.priced_whole,
            )
        )
    return tuple(kinds)


def variants(job: RollJob, rolls: Sequence[Roll]) -> tuple[list[Variant], bool]:
    """Return the choices that go for many pieces at once, and whether those are all.

    One way for each group; one of the lays for a part that is sewn of drops; the least
    area first. No variant: some part doesn't fit these rolls.
    """
    lays = [lays_that_fit(part, rolls, job) for part in job.parts]
    groups = groups_of(job.parts)
    ways = {
        name: ways_of([job.parts[p] for p in places], rolls, job)
        for name, places in groups.items()
    }
    if not all(lays) or not all(ways.values()):
        return [], True
    choices: list[list[dict[int, tuple[Lay, ...]]]] = []
    for name, places in groups.items():
        choices.append([_lying(lays, places, turned=w) for w in ways[name]])
    for place, part in enumerate(job.parts):
        if not part.group and any(lay.drops > 1 for lay in lays[place]):
            choices.append([{place: (lay,)} for lay in lays[place]])
    for choice in choices:
        choice.sort(key=lambda chosen: _area(job, chosen))
    found = islice(product(*choices), MOST_VARIANTS)
    complete = prod(len(choice) for choice in choices) <= MOST_VARIANTS
    return [tuple(_chosen(lays, chosen)) for chosen in found], complete


def _lying(
    lays: Sequence[tuple[Lay, ...]], places: Sequence[int], *, turned: bool
) -> dict[int, tuple[Lay, ...]]:
    return {
        place: tuple(
            sorted((x for x in lays[place] if x.turned == turned), key=lambda x: x.area)
        )[:1]
        for place in places
    }


def _area(job: RollJob, chosen: dict[int, tuple[Lay, ...]]) -> int:
    return sum(lays[0].area * job.parts[p].count for p, lays in chosen.items())


def _chosen(
    lays: Sequence[tuple[Lay, ...]], chosen: Sequence[dict[int, tuple[Lay, ...]]]
) -> list[tuple[Lay, ...]]:
    mine = list(lays)
    for one in chosen:
        for place, lay in one.items():
            mine[place] = lay
    return mine


def table_of(job: RollJob, kinds: Sequence[Kind], variant: Variant) -> Table:
    """Put parts that lie alike together, and give each its cells."""
    demand: list[int] = []
    members: list[list[int]] = []
    options: list[Option] = []
    known: dict[tuple[object, ...], int] = {}
    for place, (part, lays) in enumerate(zip(job.parts, variant, strict=True)):
        sizes = {(lay.across_ticks, lay.along_ticks): lay for lay in lays}
        same = (part.offset_ticks, *sorted(sizes))
        if same not in known:
            known[same] = len(demand)
            options += [
                _option(job, len(demand), part.offset_ticks, sizes[size])
                for size in sorted(sizes)
            ]
            demand.append(0)
            members.append([])
        demand[known[same]] += part.count * lays[0].drops
        members[known[same]].append(place)
    options.sort(key=lambda o: (o.along, o.across, o.item))
    return Table(
        job,
        tuple(kinds),
        tuple(options),
        tuple(demand),
        tuple(tuple(m) for m in members),
    )


def _option(job: RollJob, item: int, offset: int, lay: Lay) -> Option:
    """Return the option with its cell, which may end where the next may begin."""
    end = offset + lay.along_ticks
    along = end + job.gap_ticks
    if job.repeat_ticks:
        along = -(-along // job.repeat_ticks) * job.repeat_ticks
    return Option(item, lay.across_ticks + job.gap_ticks, along, along - end, lay)
