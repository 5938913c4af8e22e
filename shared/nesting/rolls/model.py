"""Fabric on the roll: what is wanted, from which rolls; ticks and whole prices.

Across is from selvedge to selvedge, along is the way the roll unwinds.
"""

from __future__ import annotations

import enum
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from shared.length import MAX_TICKS
from shared.nesting.errors import NestingError
from shared.nesting.model import MAX_PRICE, MAX_SIZES

MAX_ROLLS = 60  # rolls and remnants in one plan
MAX_CUTS = 20_000  # pieces in one plan
MAX_DROPS = 100
A_METRE = 320_000  # ticks


class Laying(enum.StrEnum):
    """How a row, once it is cut off the roll, may be cut up."""

    ROWS = "rows"  # side by side, each then cut to its length
    STACKS = "stacks"  # slit into columns, each cut into pieces one after the other
    FREE = "free"  # any cuts from edge to edge


@dataclass(frozen=True, slots=True)
class Lay:
    """One way a piece may lie on its roll.

    ``drops`` pieces of ``across_ticks`` by ``along_ticks`` are sewn side by side; 1 is
    no seam. ``turned``: what is upright on the panel lies across the roll.
    """

    across_ticks: int
    along_ticks: int
    turned: bool = False
    drops: int = 1

    @property
    def area(self) -> int:
        """Return the cloth in all drops, in square ticks."""
        return self.across_ticks * self.along_ticks * self.drops


@dataclass(frozen=True, slots=True)
class RollPart:
    """Pieces of one size, and every way they may lie.

    Pieces of one ``group`` all lie the same way, turned or not. With a pattern, each
    begins ``offset_ticks`` after one of its lines. ``may_seam``: where it fits no roll in
    one width, it is cut as equal drops, each seam taking ``seam_ticks`` of both sides.
    ``for_repairs``: a labelled remnant, wanted as the others are, and no part of
    the yield.
    """

    key: str
    lays: tuple[Lay, ...]
    count: int = 1
    group: str = ""
    offset_ticks: int = 0
    may_seam: bool = False
    seam_ticks: int = 0
    for_repairs: bool = False

    def __post_init__(self) -> None:
        """Refuse what no piece can be."""
        if not self.lays:
            self._refuse("lays", "{} has no way to lie.")
        for lay in self.lays:
            self._check_lay(lay)
        if self.count < 1:
            self._refuse("count", "Of {}, at least one must be wanted.")
        if self.offset_ticks < 0:
            self._refuse("offset_ticks", "The offset of {} can't be less than nothing.")
        if self.seam_ticks < 0:
            self._refuse("seam_ticks", "The seam of {} can't be less than nothing.")

    def _check_lay(self, lay: Lay) -> None:
        for field in ("across_ticks", "along_ticks"):
            if not 0 < getattr(lay, field) <= MAX_TICKS:
                self._refuse(field, "{} needs a size of more than nothing.")
        if not 1 <= lay.drops <= MAX_DROPS:
            self._refuse("drops", f"{{}} can be sewn of 1 to {MAX_DROPS} drops.")

    def _refuse(self, field: str, message: str) -> None:
        raise NestingError(field, message.format(self.key), key=self.key)


def part_of(
    key: str,
    across_ticks: int,
    along_ticks: int,
    count: int = 1,
    *,
    may_turn: bool = False,
    group: str = "",
) -> RollPart:
    """Return a part that lies as given, or turned as well where it ``may_turn``."""
    lays = [Lay(across_ticks, along_ticks)]
    if may_turn and (group or across_ticks != along_ticks):
        lays.append(Lay(along_ticks, across_ticks, turned=True))
    return RollPart(key, tuple(lays), count, group)


@dataclass(frozen=True, slots=True)
class Roll:
    """A roll or remnant in stock, or a supplier's roll to buy from.

    ``selvedge_ticks`` goes off both edges of ``width_ticks``. ``length_ticks`` None: as
    much as is wanted can be bought. ``price`` is for each ``RollJob.price_ticks`` cut;
    with ``priced_whole`` it is for the roll, however much of it is cut (0: it is paid).
    ``available`` None: any number. Rolls of the same ``lot`` match; no label matches none.
    """

    key: str
    width_ticks: int
    selvedge_ticks: int = 0
    length_ticks: int | None = None
    price: int = 1
    priced_whole: bool = False
    available: int | None = 1
    lot: str = ""

    def __post_init__(self) -> None:
        """Refuse what no roll can be."""
        if not 0 < self.width_ticks <= MAX_TICKS:
            self._refuse("width_ticks", "{} needs a width of more than nothing.")
        if self.selvedge_ticks < 0 or self.usable_ticks <= 0:
            self._refuse("selvedge_ticks", "The selvedges of {} leave no width to use.")
        if self.length_ticks is not None and not 0 < self.length_ticks <= MAX_TICKS:
            self._refuse("length_ticks", "{} needs a length of more than nothing.")
        if not 0 <= self.price <= MAX_PRICE:
            self._refuse("price", "The price of {} must be nothing or more.")
        if self.available is not None and self.available < 0:
            self._refuse("available", "There can't be fewer than none of {}.")
        if self.is_endless and (self.price == 0 or self.priced_whole):
            message = "{} can be bought without limit, so it needs a price by length."
            self._refuse("price", message)

    @property
    def usable_ticks(self) -> int:
        """Return the width between the selvedges."""
        return self.width_ticks - 2 * self.selvedge_ticks

    @property
    def is_endless(self) -> bool:
        """Tell whether as much as is wanted can be had of it."""
        return self.length_ticks is None

    def _refuse(self, field: str, message: str) -> None:
        raise NestingError(field, message.format(self.key), key=self.key)


@dataclass(frozen=True, slots=True)
class RollJob:
    """What is wanted and from which rolls; every rule of the plan.

    ``repeat_ticks``: the pattern's repeat along the roll, if it has one; its first line
    lies at the trimmed beginning. ``gap_ticks`` is left between pieces: shears need none.
    ``trim_ticks`` goes off the beginning of each roll, to square it. ``spare_percent`` of
    the length cut is added for flaws, rounded up, and must be on the roll as well.
    ``one_lot``: all pieces come from rolls of one dye lot. ``row_ticks`` is how much of
    it the table holds: no row of several pieces one after the other is longer.
    """

    rolls: tuple[Roll, ...]
    parts: tuple[RollPart, ...]
    repeat_ticks: int | None = None
    gap_ticks: int = 0
    trim_ticks: int = 0
    spare_percent: Decimal | int = 0
    one_lot: bool = True
    row_ticks: int | None = None
    laying: Laying = Laying.STACKS
    price_ticks: int = A_METRE

    def __post_init__(self) -> None:
        """Refuse what can't be cut, naming the field and the part."""
        _check_rules(self)
        _check_rolls(self.rolls)
        _check_parts(self.parts)
        _check_groups(self)
        for part in self.parts:
            if self.repeat_ticks and part.offset_ticks >= self.repeat_ticks:
                message = f"{part.key}: the offset must be less than the repeat."
                raise NestingError("offset_ticks", message, key=part.key)
            check_fits(part, self)

    def room_along(self, roll: Roll) -> int | None:
        """Return how much of a roll's length rows may take, trimmed and with the spare.

        The most u with trim + u and its spare share, rounded up, on the roll [D].
        """
        if roll.length_ticks is None:
            return None
        hundredths = Decimal(self.spare_percent).as_integer_ratio()
        top, under = hundredths
        most = roll.length_ticks * 100 * under // (100 * under + top)
        return most - self.trim_ticks

    def spare_of(self, cut_ticks: int) -> int:
        """Return what is added to a length for flaws, rounded up to a tick."""
        top, under = Decimal(self.spare_percent).as_integer_ratio()
        return -(-cut_ticks * top // (100 * under))


def lays_on(part: RollPart, rolls: Sequence[Roll]) -> tuple[Lay, ...]:
    """Return the ways a part may lie on some roll: without a seam wherever that goes.

    Where it ``may_seam``: n = ⌈(w − 2 s) / (u − 2 s)⌉ drops on a usable width u, each
    ⌈(w + 2 s (n − 1)) / n⌉ across; every seam loses s of both sides [D].
    """
    widest = max(roll.usable_ticks for roll in rolls)
    fitting = [lay for lay in part.lays if lay.across_ticks <= widest]
    plain = tuple(lay for lay in fitting if lay.drops == 1)
    if plain or fitting:
        return plain or tuple(fitting)
    if not part.may_seam or widest <= 2 * part.seam_ticks:
        return ()
    return tuple(
        _seamed(lay, widest, part.seam_ticks) for lay in part.lays if lay.drops == 1
    )


def _seamed(lay: Lay, usable_ticks: int, seam_ticks: int) -> Lay:
    lost = 2 * seam_ticks
    drops = -(-(lay.across_ticks - lost) // (usable_ticks - lost))
    each = -(-(lay.across_ticks + lost * (drops - 1)) // drops)
    return replace(lay, across_ticks=each, drops=drops)


def ways_of(
    group: Sequence[RollPart], rolls: Sequence[Roll], job: RollJob
) -> tuple[bool, ...]:
    """Return the ways that all parts of a group can lie: upright, turned, or both."""
    return tuple(
        turned
        for turned in (False, True)
        if all(
            any(lay.turned == turned for lay in lays_that_fit(part, rolls, job))
            for part in group
        )
    )


def lays_that_fit(
    part: RollPart, rolls: Sequence[Roll], job: RollJob
) -> tuple[Lay, ...]:
    """Return the lays that some roll holds in width and in length."""
    return tuple(
        lay
        for lay in lays_on(part, rolls)
        if any(_holds(job, roll, part, lay) for roll in rolls)
    )


def groups_of(parts: Sequence[RollPart]) -> dict[str, list[int]]:
    """Return the places of the parts of each group."""
    groups: dict[str, list[int]] = {}
    for index, part in enumerate(parts):
        if part.group:
            groups.setdefault(part.group, []).append(index)
    return groups


def check_fits(part: RollPart, job: RollJob) -> None:
    """Refuse a part that no roll can give, saying by which side."""
    rolls = [roll for roll in job.rolls if roll.available != 0]
    lays = lays_on(part, rolls)
    if not lays:
        wide = "even in drops" if part.may_seam else "and no seam is allowed"
        message = f"{part.key} is wider than every roll between its selvedges, {wide}."
        raise NestingError("parts", message, key=part.key)
    if not lays_that_fit(part, rolls, job):
        message = f"{part.key} is longer than what any roll wide enough can give."
        raise NestingError("parts", message, key=part.key)


def _holds(job: RollJob, roll: Roll, part: RollPart, lay: Lay) -> bool:
    room = job.room_along(roll)
    end = part.offset_ticks + lay.along_ticks
    return lay.across_ticks <= roll.usable_ticks and (room is None or end <= room)


def _check_groups(job: RollJob) -> None:
    rolls = [roll for roll in job.rolls if roll.available != 0]
    for name, places in groups_of(job.parts).items():
        group = [job.parts[place] for place in places]
        for part in group:
            check_fits(part, job)
        if not ways_of(group, rolls, job):
            names = ", ".join(part.key for part in group[:3])
            message = f"No way of lying suits every piece of {name}: {names}."
            raise NestingError("group", message, key=group[0].key)


def _check_rules(job: RollJob) -> None:
    if job.repeat_ticks is not None and not 0 < job.repeat_ticks <= MAX_TICKS:
        raise NestingError(
            "repeat_ticks", "A pattern's repeat must be more than nothing."
        )
    for field, noun in (("gap_ticks", "gap"), ("trim_ticks", "trimmed end")):
        if not 0 <= getattr(job, field) <= MAX_TICKS:
            raise NestingError(field, f"The {noun} can't be less than nothing.")
    if job.row_ticks is not None and not 0 < job.row_ticks <= MAX_TICKS:
        raise NestingError("row_ticks", "A table must hold more than nothing.")
    if not 0 <= job.spare_percent <= 100:
        message = "What is spare for flaws must be from 0 to 100 percent."
        raise NestingError("spare_percent", message)
    if not 0 < job.price_ticks <= MAX_TICKS:
        message = "A price must be for a length of more than nothing."
        raise NestingError("price_ticks", message)


def _check_rolls(rolls: Sequence[Roll]) -> None:
    if not any(roll.available != 0 for roll in rolls):
        raise NestingError("rolls", "There is no roll to cut from.")
    if len(rolls) > MAX_ROLLS:
        message = f"There are {len(rolls)} rolls; {MAX_ROLLS} is the most for one plan."
        raise NestingError("rolls", f"{message} Leave out the smallest remnants.")
    _check_unique("rolls", [roll.key for roll in rolls])


def _check_parts(parts: Sequence[RollPart]) -> None:
    if not parts:
        raise NestingError("parts", "There is nothing to cut.")
    if len(parts) > MAX_SIZES:
        raise NestingError(
            "parts",
            f"There are {len(parts)} different pieces; {MAX_SIZES} is the most for one"
            " plan. Put equal ones together, or plan fewer panels at a time.",
        )
    cuts = sum(part.count * min(lay.drops for lay in part.lays) for part in parts)
    if cuts > MAX_CUTS:
        raise NestingError(
            "parts",
            f"There are {cuts} pieces; {MAX_CUTS} is the most for one plan."
            " Plan fewer panels at a time.",
        )
    _check_unique("parts", [part.key for part in parts])


def _check_unique(field: str, keys: list[str]) -> None:
    key, times = Counter(keys).most_common(1)[0]
    if times > 1:
        raise NestingError(field, f"{key} stands here more than once.", key=key)
