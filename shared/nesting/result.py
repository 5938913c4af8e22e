"""Cut plans: what comes out of which bar or sheet, and how good that is at least."""

from __future__ import annotations

from dataclasses import dataclass

ENGINE_VERSION = "2"


@dataclass(frozen=True, slots=True)
class Verdict:
    """How good a plan is, in the unit of the stock's prices.

    ``lower_bound`` holds for ``bound_class`` only: no plan of that kind costs less.
    ``first_fit`` is what first-fit decreasing would cost, None where it finds no plan.
    ``stopped`` says that the work limit or the caller ended the search. ``job`` is the
    digest of what was planned, ``dives`` how often the search went down: with
    both, it can go on from here.
    """

    price: int
    lower_bound: int
    bound_class: str
    first_fit: int | None
    stopped: bool
    work: int
    job: str = ""
    dives: int = 0
    version: str = ENGINE_VERSION

    @property
    def proven(self) -> bool:
        """Tell whether no plan of the bound's class can be cheaper."""
        return self.price <= self.lower_bound


@dataclass(frozen=True, slots=True)
class Pieces:
    """How many of one part."""

    part: str
    count: int


@dataclass(frozen=True, slots=True)
class BarPattern:
    """``count`` bars, each cut into these pieces; what is left is after the last kerf."""

    bar: str
    count: int
    pieces: tuple[Pieces, ...]
    left_ticks: int


@dataclass(frozen=True, slots=True)
class KeptBar:
    """``count`` ends of bars worth keeping, each so long after the last kerf."""

    bar: str
    length_ticks: int
    count: int


@dataclass(frozen=True, slots=True)
class BarPlan:
    """All bars of a job. ``yield_share`` is what ends up in parts, from 0 to 1."""

    patterns: tuple[BarPattern, ...]
    verdict: Verdict
    yield_share: float

    def worth_keeping(self, length_ticks: int) -> tuple[KeptBar, ...]:
        """Return what is left of bars, where that is at least so long."""
        return tuple(
            KeptBar(pattern.bar, pattern.left_ticks, pattern.count)
            for pattern in self.patterns
            if pattern.left_ticks >= length_ticks
        )

    @property
    def bar_count(self) -> int:
        """Return how many bars are cut."""
        return sum(pattern.count for pattern in self.patterns)


@dataclass(frozen=True, slots=True)
class Piece:
    """A part where it lies, ``at_ticks`` from the strip's beginning.

    With a bevel it is the blank of a pair, which a tilted rip along its length halves.
    """

    part: str
    at_ticks: int
    length_ticks: int
    width_ticks: int
    turned: bool
    bevel_deg: float = 0.0

    @property
    def size(self) -> tuple[int, int]:
        """Return what it takes along its strip and across it."""
        return self.length_ticks, self.width_ticks


@dataclass(frozen=True, slots=True)
class Strip:
    """What one rip frees, ``at_ticks`` from the plate's edge; pieces in cutting order.

    A piece narrower than the strip needs a third, trimming rip.
    """

    at_ticks: int
    width_ticks: int
    pieces: tuple[Piece, ...]

    def trimmed(self) -> tuple[Piece, ...]:
        """Return the pieces that need a trimming rip."""
        return tuple(p for p in self.pieces if p.width_ticks < self.width_ticks)

    @property
    def bevel_deg(self) -> float:
        """Return the tilt at which the whole strip can be ripped in two, 0 for none.

        Every piece must be a blank of that bevel, as wide as the strip, and not turned.
        """
        bevels = {p.bevel_deg for p in self.pieces}
        alike = len(bevels) == 1 and not self.trimmed()
        return bevels.pop() if alike and not any(p.turned for p in self.pieces) else 0.0


@dataclass(frozen=True, slots=True)
class Plate:
    """The usable part of a sheet, or of one half of it, with its corner on the sheet."""

    x_ticks: int
    y_ticks: int
    length_ticks: int
    width_ticks: int
    strips: tuple[Strip, ...]


@dataclass(frozen=True, slots=True)
class Offcut:
    """A rectangle left over, where it lies on the sheet."""

    x_ticks: int
    y_ticks: int
    length_ticks: int
    width_ticks: int


@dataclass(frozen=True, slots=True)
class Layout:
    """``count`` sheets that are cut alike."""

    sheet: str
    count: int
    plates: tuple[Plate, ...]
    offcuts: tuple[Offcut, ...]

    def worth_keeping(self, length_ticks: int, width_ticks: int) -> tuple[Offcut, ...]:
        """Return the offcuts of at least this size, whichever way they are turned."""
        long, short = max(length_ticks, width_ticks), min(length_ticks, width_ticks)
        return tuple(
            o
            for o in self.offcuts
            if max(o.length_ticks, o.width_ticks) >= long
            and min(o.length_ticks, o.width_ticks) >= short
        )


@dataclass(frozen=True, slots=True)
class Kept:
    """An offcut worth keeping, one of each sheet from ``first_sheet`` to ``last_sheet``."""

    sheet: str
    first_sheet: int
    last_sheet: int
    offcut: Offcut

    @property
    def count(self) -> int:
        """Return how many there are."""
        return self.last_sheet - self.first_sheet + 1


@dataclass(frozen=True, slots=True)
class SheetPlan:
    """All sheets of a job. ``yield_share`` is what ends up in parts, from 0 to 1."""

    layouts: tuple[Layout, ...]
    verdict: Verdict
    yield_share: float

    def sheet_numbers(self) -> tuple[range, ...]:
        """Return the numbers of each layout's sheets: from 1, sheets cut alike together."""
        numbers, first = [], 1
        for layout in self.layouts:
            numbers.append(range(first, first + layout.count))
            first += layout.count
        return tuple(numbers)

    def worth_keeping(self, length_ticks: int, width_ticks: int) -> tuple[Kept, ...]:
        """Return the offcuts of at least this size, whichever way they are turned."""
        return tuple(
            Kept(layout.sheet, sheets[0], sheets[-1], offcut)
            for layout, sheets in zip(self.layouts, self.sheet_numbers(), strict=True)
            for offcut in layout.worth_keeping(length_ticks, width_ticks)
        )

    @property
    def sheet_count(self) -> int:
        """Return how many sheets are cut."""
        return sum(layout.count for layout in self.layouts)

    @property
    def strip_count(self) -> int:
        """Return how many strips are ripped."""
        return sum(
            layout.count * len(plate.strips)
            for layout in self.layouts
            for plate in layout.plates
        )
