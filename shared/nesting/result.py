"""Cut plans: what comes out of which bar or sheet, and how good that is at least."""

from __future__ import annotations

from dataclasses import dataclass

ENGINE_VERSION = "1"


@dataclass(frozen=True, slots=True)
class Verdict:
    """How good a plan is, in the unit of the stock's prices.

    ``lower_bound`` holds for ``bound_class`` only: no plan of that kind costs less.
    ``first_fit`` is what first-fit decreasing would cost, None where it finds no plan.
    ``stopped`` says that the work limit or the caller ended the search.
    """

    price: int
    lower_bound: int
    bound_class: str
    first_fit: int | None
    stopped: bool
    work: int
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
class BarPlan:
    """All bars of a job. ``yield_share`` is what ends up in parts, from 0 to 1."""

    patterns: tuple[BarPattern, ...]
    verdict: Verdict
    yield_share: float

    @property
    def bar_count(self) -> int:
        """Return how many bars are cut."""
        return sum(pattern.count for pattern in self.patterns)


@dataclass(frozen=True, slots=True)
class Piece:
    """A part where it lies, ``at_ticks`` from the strip's beginning."""

    part: str
    at_ticks: int
    length_ticks: int
    width_ticks: int
    turned: bool


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
class SheetPlan:
    """All sheets of a job. ``yield_share`` is what ends up in parts, from 0 to 1."""

    layouts: tuple[Layout, ...]
    verdict: Verdict
    yield_share: float

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
