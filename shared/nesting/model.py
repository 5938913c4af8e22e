"""What is to be cut, and from what: lengths in ticks, prices in whole minor units."""

from __future__ import annotations

import enum
from collections import Counter
from dataclasses import dataclass

from shared.length import MAX_TICKS
from shared.nesting.errors import NestingError
from shared.nesting.pairs import Pair

MAX_SIZES = 2000  # different parts in one plan: what a plan in reasonable time can hold
MAX_PIECES = 100_000
MAX_STOCKS = 200  # different bars or sheets, offcuts among them
MAX_PRICE = 10**9


class Halving(enum.StrEnum):
    """How a sheet is cut in two before anything else, so that one person can lift it."""

    WHOLE = "whole"
    LENGTHWISE = "lengthwise"  # the halves keep the sheet's length
    ACROSS = "across"  # the halves keep the sheet's width


@dataclass(frozen=True, slots=True)
class Bar:
    """One kind of bar in stock; ``available`` is None where more can be bought."""

    key: str
    length_ticks: int
    price: int = 1
    available: int | None = None

    def __post_init__(self) -> None:
        """Refuse what no bar can be."""
        _check_stock(self.key, self.price, self.available)
        _check_length("length_ticks", self.length_ticks, self.key)


@dataclass(frozen=True, slots=True)
class BarPart:
    """Pieces of one length."""

    key: str
    length_ticks: int
    count: int = 1

    def __post_init__(self) -> None:
        """Refuse what no piece can be."""
        _check_length("length_ticks", self.length_ticks, self.key)
        _check_count(self.key, self.count)


@dataclass(frozen=True, slots=True)
class BarJob:
    """Bars, pieces, and what the saw takes.

    ``kerf_ticks`` goes at every cut. ``trim_ticks`` goes off both ends before
    anything is measured, that cut's kerf included.
    """

    bars: tuple[Bar, ...]
    parts: tuple[BarPart, ...]
    kerf_ticks: int = 0
    trim_ticks: int = 0

    def __post_init__(self) -> None:
        """Refuse what can't be cut, naming the field and the part."""
        _check_saw(self.kerf_ticks, self.trim_ticks)
        _check_set("bars", "bar", [(bar.key, bar.available) for bar in self.bars])
        _check_parts([(p.key, p.count, p.length_ticks) for p in self.parts], self)
        there = [bar for bar in self.bars if bar.available != 0]
        longest = max(bar.length_ticks for bar in there) - 2 * self.trim_ticks
        for part in self.parts:
            if part.length_ticks > longest:
                raise NestingError(
                    "parts",
                    f"Part {part.key} is longer than any bar, less what is trimmed.",
                    key=part.key,
                )


@dataclass(frozen=True, slots=True)
class Sheet:
    """One kind of sheet in stock; strips are ripped along its length.

    ``sawn`` edges, as an offcut has, are true already: nothing is trimmed off them.
    """

    key: str
    length_ticks: int
    width_ticks: int
    price: int = 1
    available: int | None = None
    sawn: bool = False

    def __post_init__(self) -> None:
        """Refuse what no sheet can be."""
        _check_stock(self.key, self.price, self.available)
        _check_length("length_ticks", self.length_ticks, self.key)
        _check_length("width_ticks", self.width_ticks, self.key)


@dataclass(frozen=True, slots=True)
class Rect:
    """Pieces of one size; the length lies along the sheet unless it ``may_turn``.

    With a ``pair`` each piece is a blank for two parts; ``count`` counts blanks.
    """

    key: str
    length_ticks: int
    width_ticks: int
    count: int = 1
    may_turn: bool = False
    pair: Pair | None = None

    def __post_init__(self) -> None:
        """Refuse what no piece can be."""
        _check_length("length_ticks", self.length_ticks, self.key)
        _check_length("width_ticks", self.width_ticks, self.key)
        _check_count(self.key, self.count)

    def ways(self) -> tuple[tuple[int, int, bool], ...]:
        """Return each way it may lie: along the sheet, across it, and whether turned."""
        straight = (self.length_ticks, self.width_ticks, False)
        if not self.may_turn or self.length_ticks == self.width_ticks:
            return (straight,)
        return (straight, (self.width_ticks, self.length_ticks, True))


@dataclass(frozen=True, slots=True)
class SheetJob:
    """Sheets, pieces, what the saw takes, and which plans are allowed.

    Strips are ripped along the sheet, then crosscut. ``may_trim_strips`` lets a piece
    narrower than its strip have a third, trimming rip of its own. ``trim_ticks`` goes
    off all four edges first, those cuts' kerfs included; then the sheet may be halved.
    """

    sheets: tuple[Sheet, ...]
    parts: tuple[Rect, ...]
    kerf_ticks: int = 0
    trim_ticks: int = 0
    halving: Halving = Halving.WHOLE
    may_trim_strips: bool = True

    def __post_init__(self) -> None:
        """Refuse what can't be cut, naming the field and the part."""
        _check_saw(self.kerf_ticks, self.trim_ticks)
        _check_set("sheets", "sheet", [(s.key, s.available) for s in self.sheets])
        sizes = [
            (p.key, p.count, min(p.length_ticks, p.width_ticks)) for p in self.parts
        ]
        _check_parts(sizes, self)
        plates = [self.plate_of(s) for s in self.sheets if s.available != 0]
        for part in self.parts:
            _check_pair(part, self.kerf_ticks)
            if not any(
                along <= length and across <= width
                for length, width in plates
                for along, across, _ in part.ways()
            ):
                raise NestingError("parts", _too_large(part, self), key=part.key)

    @property
    def plates_per_sheet(self) -> int:
        """Return how many plates each sheet gives: two where it is halved."""
        return 1 if self.halving is Halving.WHOLE else 2

    def trim_of(self, sheet: Sheet) -> int:
        """Return what goes off each edge of a sheet first, in ticks."""
        return 0 if sheet.sawn else self.trim_ticks

    def plate_of(self, sheet: Sheet) -> tuple[int, int]:
        """Return length and width that can be used of a sheet, or of each half, in ticks.

        Halving takes one kerf; where what remains is odd, a tick is left.
        """
        length = sheet.length_ticks - 2 * self.trim_of(sheet)
        width = sheet.width_ticks - 2 * self.trim_of(sheet)
        if self.halving is Halving.ACROSS:
            length = (length - self.kerf_ticks) // 2
        elif self.halving is Halving.LENGTHWISE:
            width = (width - self.kerf_ticks) // 2
        return length, width


def _too_large(part: Rect, job: SheetJob) -> str:
    halves = "half sheet" if job.halving is not Halving.WHOLE else "sheet"
    turning = "either way round" if part.may_turn else "the way its grain must run"
    return f"Part {part.key} fits no {halves} {turning}, less what is trimmed."


def _check_stock(key: str, price: int, available: int | None) -> None:
    if not 0 <= price <= MAX_PRICE:
        raise NestingError("price", f"The price of {key} must be nothing or more.")
    if available is not None and available < 0:
        raise NestingError("available", f"There can't be fewer than none of {key}.")
    if available is None and price == 0:
        message = f"{key} can be bought without limit, so it needs a price."
        raise NestingError("price", message, key=key)


def _check_length(field: str, ticks: int, key: str) -> None:
    if not 0 < ticks <= MAX_TICKS:
        raise NestingError(field, f"{key} needs a size of more than nothing.", key=key)


def _check_count(key: str, count: int) -> None:
    if count < 1:
        raise NestingError("count", f"Of {key}, at least one must be wanted.", key=key)


def _check_saw(kerf_ticks: int, trim_ticks: int) -> None:
    if kerf_ticks < 0:
        raise NestingError("kerf_ticks", "The saw's cut can't be less than nothing.")
    if trim_ticks < 0:
        raise NestingError("trim_ticks", "What is trimmed can't be less than nothing.")


def _check_pair(part: Rect, kerf_ticks: int) -> None:
    if part.pair and part.pair.faces(part.width_ticks, kerf_ticks).short_ticks <= 0:
        raise NestingError(
            "parts",
            f"Part {part.key} is too narrow: a rip tilted by {part.pair.bevel_deg:g}°"
            " leaves nothing of its short face.",
            key=part.key,
        )


def _check_set(field: str, noun: str, stock: list[tuple[str, int | None]]) -> None:
    keys = [key for key, _ in stock]
    if all(available == 0 for _, available in stock):
        raise NestingError(field, f"There is no {noun} to cut from.")
    if len(keys) > MAX_STOCKS:
        raise NestingError(
            field,
            f"There are {len(keys)} kinds of {noun}; {MAX_STOCKS} is the most for one"
            " plan. Leave out the smallest offcuts.",
        )
    _check_unique(field, keys)


def _check_unique(field: str, keys: list[str]) -> None:
    key, times = Counter(keys).most_common(1)[0]
    if times > 1:
        raise NestingError(field, f"{key} stands here more than once.", key=key)


def _check_parts(sizes: list[tuple[str, int, int]], job: BarJob | SheetJob) -> None:
    """Check the parts' keys, counts and smallest sides, in ticks."""
    if not sizes:
        raise NestingError("parts", "There is nothing to cut.")
    if len(sizes) > MAX_SIZES:
        raise NestingError(
            "parts",
            f"There are {len(sizes)} different parts; {MAX_SIZES} is the most for one"
            " plan. Put equal ones together, or plan fewer panels at a time.",
        )
    pieces = sum(count for _, count, _ in sizes)
    if pieces > MAX_PIECES:
        raise NestingError(
            "parts",
            f"There are {pieces} pieces; {MAX_PIECES} is the most for one plan."
            " Plan fewer panels at a time.",
        )
    _check_unique("parts", [key for key, _, _ in sizes])
    for key, _, smallest in sizes:
        if job.kerf_ticks > smallest:
            message = f"The saw's cut is wider than part {key}."
            raise NestingError("kerf_ticks", message, key=key)
