"""The cutting list of a row: cuts from edge to edge, found from where the pieces lie."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from shared.nesting.rolls.result import Cut, Placed, Scrap, Way


@dataclass(slots=True)
class Cutting:
    """The cuts in their order, and what they leave."""

    cuts: list[Cut] = field(default_factory=list)
    scraps: list[Scrap] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class _Cloth:
    """What is in hand, with the pieces that are still to be cut from it."""

    x0: int
    y0: int
    x1: int
    y1: int
    pieces: tuple[Placed, ...]
    depth: int

    def is_done(self) -> bool:
        if len(self.pieces) != 1:
            return False
        (piece,) = self.pieces
        size = self.x1 - self.x0, self.y1 - self.y0
        return size == (piece.across_ticks, piece.along_ticks)


def cut_up(width: int, at: int, length: int, pieces: Sequence[Placed]) -> Cutting:
    """Return how to cut a row: free it, slit it along, cut across, and so on in turn.

    Raises ``ValueError`` for pieces that no cuts from edge to edge part.
    """
    found = Cutting()
    found.cuts.append(Cut(Way.ACROSS, at + length, 0, width, 1))
    waiting = [_Cloth(0, at, width, at + length, tuple(pieces), 2)]
    while waiting:
        cloth = waiting.pop()
        if cloth.is_done():
            continue
        parts = _split(cloth, Way.ALONG, found) or _split(cloth, Way.ACROSS, found)
        if not parts:
            raise ValueError("These pieces can't be cut from edge to edge.")
        waiting += reversed(parts)
    return found


def _split(cloth: _Cloth, way: Way, found: Cutting) -> list[_Cloth]:
    """Cut wherever no piece is in the way, note scraps, and return what holds pieces."""
    low, high = (cloth.x0, cloth.x1) if way is Way.ALONG else (cloth.y0, cloth.y1)
    runs = list(_runs(cloth.pieces, way))
    if runs[0][:2] == (low, high):
        return []
    parts: list[_Cloth] = []
    at = low
    for start, end, pieces in runs:
        if start > at:
            if at > low:
                _cut(cloth, way, at, found)
            _scrap(cloth, way, at, start, found)
        if start > low:
            _cut(cloth, way, start, found)
        parts.append(_part(cloth, way, start, end, pieces))
        at = end
    if at < high:
        _cut(cloth, way, at, found)
        _scrap(cloth, way, at, high, found)
    return parts


def _runs(
    pieces: Sequence[Placed], way: Way
) -> Iterator[tuple[int, int, tuple[Placed, ...]]]:
    """Yield stretches that pieces cover without a break, with those pieces."""

    def span(piece: Placed) -> tuple[int, int]:
        if way is Way.ALONG:
            return piece.x_ticks, piece.x_ticks + piece.across_ticks
        return piece.y_ticks, piece.y_ticks + piece.along_ticks

    ordered = sorted(pieces, key=lambda piece: (span(piece), piece.x_ticks))
    start, end = span(ordered[0])
    mine: list[Placed] = []
    for piece in ordered:
        low, high = span(piece)
        if low >= end and mine:
            yield start, end, tuple(mine)
            start, end, mine = low, high, []
        end = max(end, high)
        mine.append(piece)
    yield start, end, tuple(mine)


def _cut(cloth: _Cloth, way: Way, at: int, found: Cutting) -> None:
    along = way is Way.ALONG
    low, high = (cloth.y0, cloth.y1) if along else (cloth.x0, cloth.x1)
    found.cuts.append(Cut(way, at, low, high, cloth.depth))


def _scrap(cloth: _Cloth, way: Way, low: int, high: int, found: Cutting) -> None:
    x0, y0, x1, y1 = _box(cloth, way, low, high)
    found.scraps.append(Scrap(x0, y0, x1 - x0, y1 - y0))


def _part(
    cloth: _Cloth, way: Way, low: int, high: int, pieces: tuple[Placed, ...]
) -> _Cloth:
    return _Cloth(*_box(cloth, way, low, high), pieces, cloth.depth + 1)


def _box(cloth: _Cloth, way: Way, low: int, high: int) -> tuple[int, int, int, int]:
    if way is Way.ALONG:
        return low, cloth.y0, high, cloth.y1
    return cloth.x0, low, cloth.x1, high
