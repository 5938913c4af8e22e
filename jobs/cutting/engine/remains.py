"""How far a plan is by the rows that are ticked: pieces made, rests of what was begun (pure).

A row is ticked when it is done on everything begun. A piece is made once it is crosscut,
or its strip is ripped in two with the blade tilted: what is done to it after that stays to
be done. Lengths in ticks.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import count

from jobs.cutting.engine.request import Request
from jobs.cutting.engine.saw import Row, SawStep
from quotes.specs.engine.cutlist import CutPart, Mate, Share
from shared.nesting import BarPlan, SheetPlan


@dataclass(frozen=True, slots=True)
class Rest:
    """A rectangle of something begun that no piece was cut from yet."""

    source: str
    number: int
    length_ticks: int
    width_ticks: int

    def holds(self, part: CutPart, *, may_turn: bool) -> bool:
        """Whether a piece can be cut from it."""
        sides = self.length_ticks, self.width_ticks
        ways = [(part.length_ticks, part.width_ticks)]
        if may_turn and not part.bevel_deg:
            ways.append((part.width_ticks, part.length_ticks))
        return any(a <= sides[0] and b <= sides[1] for a, b in ways)


@dataclass(frozen=True, slots=True)
class Begun:
    """What the first so many sheets or bars of a plan have become."""

    sources: tuple[str, ...]
    made: Mapping[str, int]
    rests: tuple[Rest, ...]


@dataclass(frozen=True, slots=True)
class _Strip:
    """A strip of a plate, or a bar: whether it is there yet, and what is crosscut of it."""

    width: int
    pieces: tuple[tuple[str, int], ...]
    ripped: bool
    tilted: bool = False

    def made(self, done: Collection[str]) -> list[tuple[str, int]]:
        """Return part and length of each piece that is made."""
        if not self.ripped:
            return []
        return [p for p in self.pieces if self.tilted or _crosscut(p[1]) in done]


@dataclass(frozen=True, slots=True)
class _Plate:
    """A sheet, one half of it, or a bar."""

    number: int
    source: str
    length: int
    width: int
    strips: tuple[_Strip, ...]

    def is_begun(self, done: Collection[str]) -> bool:
        """Whether a ticked row begins to cut it; a bar's one strip is there as it comes."""
        if any(strip.made(done) for strip in self.strips):
            return True
        return any(s.ripped and s.width < self.width for s in self.strips)

    def rests(self, done: Collection[str], kerf: int) -> Iterator[Rest]:
        """Yield what is left of each strip that is there, and of the plate."""
        width = self.width
        for strip in (strip for strip in self.strips if strip.ripped):
            width -= strip.width + kerf
            gone = sum(length + kerf for _, length in strip.made(done))
            if self.length > gone and not strip.tilted:
                yield Rest(self.source, self.number, self.length - gone, strip.width)
        if width > 0:
            yield Rest(self.source, self.number, self.length, width)


def begun_by_ticks(
    request: Request,
    plan: SheetPlan | BarPlan,
    rows: Iterable[Row],
    done: Collection[str],
) -> int:
    """Return how many sheets or bars, from the first, some ticked row begins to cut."""
    plates = _plates(request, plan, rows, done)
    return max((p.number for p in plates if p.is_begun(done)), default=0)


def begun(
    request: Request,
    plan: SheetPlan | BarPlan,
    rows: Iterable[Row],
    done: Collection[str],
    *,
    count: int,
) -> Begun:
    """Return what came of the first `count` sheets or bars, by the keys of ticked rows."""
    plates = [p for p in _plates(request, plan, rows, done) if p.number <= count]
    made = Counter(
        part
        for plate in plates
        for strip in plate.strips
        for part, _ in strip.made(done)
    )
    rests = (rest for plate in plates for rest in plate.rests(done, request.kerf_ticks))
    sources = {plate.number: plate.source for plate in plates}
    return Begun(tuple(sources.values()), dict(made), tuple(rests))


def still_wanted(request: Request, made: Mapping[str, int]) -> tuple[CutPart, ...]:
    """Return the parts that are not made yet; the first panels get what is made."""
    left = (_less(part, made.get(part.key, 0)) for part in request.parts)
    return tuple(part for part in left if part.count)


def _less(part: CutPart, made: int) -> CutPart:
    shares = []
    for share in part.shares:
        given = min(made, share.count)
        made -= given
        if given < share.count:
            shares.append(_cut_down(share, share.count - given))
    return replace(part, count=sum(s.count for s in shares), shares=tuple(shares))


def _cut_down(share: Share, count: int) -> Share:
    mates = tuple(
        Mate(mate.label, mate.length_ticks, -(-mate.count * count // share.count))
        for mate in share.mates
    )
    return replace(share, count=count, mates=mates)


def _plates(
    request: Request,
    plan: SheetPlan | BarPlan,
    rows: Iterable[Row],
    done: Collection[str],
) -> Iterator[_Plate]:
    if isinstance(plan, BarPlan):
        yield from _bars(request, plan)
    else:
        yield from _sheets(plan, frozenset(_tilted(rows, done)), done)


def _bars(request: Request, plan: BarPlan) -> Iterator[_Plate]:
    numbers = count(1)
    for pattern in plan.patterns:
        source = request.source(pattern.bar)
        pieces = tuple(
            (each.part, request.part(each.part).length_ticks)
            for each in pattern.pieces
            for _ in range(each.count)
        )
        length = source.length_ticks - 2 * request.trim_ticks
        strips = (_Strip(source.width_ticks, pieces, ripped=True),)
        for _ in range(pattern.count):
            yield _Plate(next(numbers), source.key, length, source.width_ticks, strips)


def _sheets(
    plan: SheetPlan, tilted: frozenset[tuple[int, int, int]], done: Collection[str]
) -> Iterator[_Plate]:
    numbers = zip(plan.layouts, plan.sheet_numbers(), strict=True)
    for layout, number in ((layout, n) for layout, run in numbers for n in run):
        for at, plate in enumerate(layout.plates):
            strips = tuple(
                _Strip(
                    width=strip.width_ticks,
                    pieces=tuple((p.part, p.length_ticks) for p in strip.pieces),
                    ripped=f"{SawStep.RIP}-{strip.width_ticks}" in done,
                    tilted=(number, at, index) in tilted,
                )
                for index, strip in enumerate(plate.strips)
            )
            sides = plate.length_ticks, plate.width_ticks
            yield _Plate(number, layout.sheet, *sides, strips)


def _tilted(
    rows: Iterable[Row], done: Collection[str]
) -> Iterator[tuple[int, int, int]]:
    """Yield sheet, plate and strip of strips that were ripped in two whole."""
    for row in rows:
        if row.step is SawStep.BEVEL and row.key in done:
            for place in row.places:
                for number in range(place.first_sheet, place.last_sheet + 1):
                    yield number, place.plate or 0, place.strip or 0


def _crosscut(length: int) -> str:
    return f"{SawStep.CROSSCUT}-{length}"
