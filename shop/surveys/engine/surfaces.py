"""What each surface of a room is covered with, and how much of it there is.

A wall's area is its length on the closed plan by the mean of the heights at its ends, less
the holes of its openings, which are surfaces of their own. The floor's is that within the
plan; the ceiling's is the surface of triangles over it. Sides of beams are left out: they
add less than any coefficient is uncertain by.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import hypot

from shop.surveys.engine.adjust import crossing
from shop.surveys.engine.ceiling import Ceiling, triangles
from shop.surveys.engine.outline import M_PER_TICK, Corner
from shop.surveys.engine.room import RoomIn

VERSION = "surfaces-1"

WORDS = {
    "excess": "The finishes on {name} take up {0}, but it has {1}.",
    "twice": "Two finishes are noted for the whole of {name}: the last one counts.",
    "outside": "{name} lies outside the walls. Read its distances again.",
    "bare": "For the sound of the room: what {name} is covered with.",
    "bare_all": "For the sound of the room: what {name} are covered with.",
    "other_side": "The other side of a part on the {name}: by one side it has no area.",
    "placing": "For placing panels: where somebody listens, speaks or plays.",
}
"""What is said of finishes and places; numbers stand for areas."""

LEAST_M2 = 1e-6
"""Less than a square millimetre is nothing: what sums of floats leave over."""


class On(StrEnum):
    """What a finish lies on."""

    WALLS = "walls"
    WALL = "wall"
    CEILING = "ceiling"
    FLOOR = "floor"
    OPENING = "opening"


@dataclass(frozen=True, slots=True)
class CoveringIn:
    """A finish as noted; `finish` is the key of one, empty while none is chosen.

    `wall` and `opening` say by place in the room which one it lies on. Without width and
    height it is all that is left of the surface; with one of them on a wall, a strip.
    """

    on: On
    finish: str = ""
    wall: int = -1
    opening: int = -1
    width_ticks: int | None = None
    height_ticks: int | None = None

    @property
    def is_whole(self) -> bool:
        """Whether it lies on all that is left."""
        return self.width_ticks is None and self.height_ticks is None


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of one surface under one finish; `area_m2` is missing while it is not known."""

    surface: str
    finish: str
    area_m2: float | None


@dataclass(frozen=True, slots=True)
class Excess:
    """Parts of a surface that take up more than there is, in m²."""

    surface: str
    taken_m2: float
    there_m2: float


@dataclass(frozen=True, slots=True)
class Surfaces:
    """All surfaces of a room.

    Attributes
    ----------
    pieces
        Every piece, wall by wall with its openings, then ceiling and floor. Where all
        areas are known they add up to `boundary_m2`.
    boundary_m2
        All that bounds the room, in m²; missing while heights are.
    excesses
        Surfaces whose parts take up more than there is; they are shrunk to what there is.
    twice
        Surfaces for the whole of which more than one finish is noted; the last counts.
    unread
        Ceiling or floor where only one side of a part was read: it counts for nothing.
    """

    pieces: tuple[Piece, ...]
    boundary_m2: float | None
    excesses: tuple[Excess, ...] = ()
    twice: tuple[str, ...] = ()
    unread: tuple[str, ...] = ()
    version: str = VERSION

    @property
    def bare(self) -> tuple[str, ...]:
        """Surfaces of which a piece has no finish yet, each once."""
        return tuple(dict.fromkeys(p.surface for p in self.pieces if not p.finish))


@dataclass(frozen=True, slots=True)
class _Surface:
    """One surface before finishes: its key, its name, sides in ticks where it is a box."""

    key: tuple[On, int, int]
    name: str
    area_m2: float | None
    width_ticks: float | None = None
    height_ticks: float | None = None


def surfaces(room: RoomIn, coverings: Sequence[CoveringIn]) -> Surfaces:
    """Share a room's boundary out among the finishes that are noted.

    Parameters
    ----------
    room
        The room as measured, lengths in ticks.
    coverings
        In the order in which they were noted; of two for the same whole the last counts.

    Returns
    -------
    Surfaces
        A finish for all walls lies on each wall that has none of its own. Parts of all
        walls are taken from each in proportion to what is left of it.
    """
    found = list(_surfaces(room))
    parts = {s.key: _parts(s, coverings) for s in found}
    common = _common(found, parts, coverings)
    pieces: list[Piece] = []
    excesses: list[Excess] = []
    for surface in found:
        own = [*parts[surface.key], *common.get(surface.key, ())]
        whole = _whole(surface.key, coverings)
        pieces += _pieces(surface, own, whole)
        excesses += _excess(surface, own)
    areas = [s.area_m2 for s in found]
    known = [area for area in areas if area is not None]
    return Surfaces(
        pieces=tuple(pieces),
        boundary_m2=sum(known) if len(known) == len(areas) else None,
        excesses=tuple(excesses),
        twice=tuple(_twice(found, coverings)),
        unread=tuple(s.name for s in found if _unread(s, parts[s.key])),
    )


def _unread(surface: _Surface, parts: Sequence[Piece]) -> bool:
    return surface.area_m2 is not None and any(p.area_m2 is None for p in parts)


def _surfaces(room: RoomIn) -> Iterator[_Surface]:
    heights, closed = room.corner_heights(), room.adjusted
    read = tuple(wall.line.length_ticks for wall in room.walls)
    lengths = closed.lengths_ticks if closed else read
    for n, wall in enumerate(room.walls):
        holes = [
            _Surface(
                (On.OPENING, n, m),
                opening.name,
                opening.shape.width_ticks * opening.shape.height_ticks * M_PER_TICK**2,
                opening.shape.width_ticks,
                opening.shape.height_ticks,
            )
            for m, opening in enumerate(wall.openings)
        ]
        mean = None
        if heights is not None:
            mean = (heights[n] + heights[(n + 1) % len(heights)]) / 2
        area = None if mean is None else lengths[n] * mean * M_PER_TICK**2
        # Holes larger than their wall are told elsewhere; less than nothing is nothing.
        net = None if area is None else max(0.0, area - sum(_areas(holes)))
        name = f"wall {wall.name}"
        yield _Surface((On.WALL, n, -1), name, net, lengths[n], mean)
        yield from holes
    yield _Surface((On.CEILING, -1, -1), "ceiling", _ceiling_m2(room, heights))
    yield _Surface((On.FLOOR, -1, -1), "floor", room.area_m2)


def _areas(found: Sequence[_Surface]) -> Iterator[float]:
    return (s.area_m2 for s in found if s.area_m2 is not None)


def _ceiling_m2(room: RoomIn, heights: tuple[float, ...] | None) -> float | None:
    if room.ceiling is Ceiling.FLAT:
        return room.area_m2
    if heights is None or crossing(room.corners) is not None:
        return None
    corners = room.corners
    return sum(
        _triangle_ticks2([(corners[n], heights[n]) for n in ring])
        for ring in triangles(corners)
    ) * (M_PER_TICK**2)


def _triangle_ticks2(spots: Sequence[tuple[Corner, float]]) -> float:
    """Return a triangle's area in space: half the length of its sides' vector product."""
    (a, low), *others = spots
    (ax, ay, az), (bx, by, bz) = (
        (spot.x_ticks - a.x_ticks, spot.y_ticks - a.y_ticks, height - low)
        for spot, height in others
    )
    across = hypot(ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx)
    return across / 2


def _parts(surface: _Surface, coverings: Sequence[CoveringIn]) -> list[Piece]:
    """Return the parts noted on one surface, each with its area."""
    return [
        Piece(surface.name, covering.finish, _box_m2(covering, surface))
        for covering in coverings
        if not covering.is_whole
        and (covering.on, covering.wall, covering.opening) == surface.key
    ]


def _box_m2(covering: CoveringIn, surface: _Surface) -> float | None:
    """Return a part's area: the side that was not read is as long as its surface."""
    width = covering.width_ticks or surface.width_ticks
    height = covering.height_ticks or surface.height_ticks
    return None if width is None or height is None else width * height * M_PER_TICK**2


def _common(
    found: Sequence[_Surface],
    parts: dict[tuple[On, int, int], list[Piece]],
    coverings: Sequence[CoveringIn],
) -> dict[tuple[On, int, int], list[Piece]]:
    """Share parts of all walls out in proportion to what is left of each."""
    walls = [s for s in found if s.key[0] is On.WALL]
    left = {s.key: _left(s, parts[s.key]) for s in walls}
    whole = sum(left.values())
    length = sum(s.width_ticks or 0.0 for s in walls)
    gross = sum((s.width_ticks or 0.0) * (s.height_ticks or 0.0) for s in walls)
    mean = gross / length if length and gross else None
    around = _Surface((On.WALLS, -1, -1), "walls", None, length, mean)
    shared: dict[tuple[On, int, int], list[Piece]] = {s.key: [] for s in walls}
    for part in _parts(around, coverings):
        for wall in walls:
            share = left[wall.key] / whole if whole else 0.0
            area = None if part.area_m2 is None else part.area_m2 * share
            shared[wall.key].append(Piece(wall.name, part.finish, area))
    return shared


def _left(surface: _Surface, parts: Sequence[Piece]) -> float:
    taken = sum(piece.area_m2 or 0.0 for piece in parts)
    return max(0.0, (surface.area_m2 or 0.0) - taken)


def _whole(key: tuple[On, int, int], coverings: Sequence[CoveringIn]) -> str:
    """Return the finish of all that is left of a surface; empty while there is none."""
    own = _wholes(key, coverings)
    if not own and key[0] is On.WALL:
        own = _wholes((On.WALLS, -1, -1), coverings)
    return own[-1] if own else ""


def _wholes(key: tuple[On, int, int], coverings: Sequence[CoveringIn]) -> list[str]:
    return [
        covering.finish
        for covering in coverings
        if covering.is_whole
        and covering.finish
        and (covering.on, covering.wall, covering.opening) == key
    ]


def _pieces(surface: _Surface, parts: Sequence[Piece], whole: str) -> Iterator[Piece]:
    if surface.area_m2 is None:
        yield from parts
        yield Piece(surface.name, whole, None)
        return
    taken = sum(piece.area_m2 or 0.0 for piece in parts)
    shrink = min(1.0, surface.area_m2 / taken) if taken else 1.0
    for piece in parts:
        area = (piece.area_m2 or 0.0) * shrink
        if area > LEAST_M2:
            yield Piece(piece.surface, piece.finish, area)
    rest = surface.area_m2 - taken * shrink
    if rest > LEAST_M2:
        yield Piece(surface.name, whole, rest)


def _excess(surface: _Surface, parts: Sequence[Piece]) -> Iterator[Excess]:
    taken = sum(piece.area_m2 or 0.0 for piece in parts)
    if surface.area_m2 is not None and taken > surface.area_m2 + LEAST_M2:
        yield Excess(surface.name, taken, surface.area_m2)


def _twice(found: Sequence[_Surface], coverings: Sequence[CoveringIn]) -> Iterator[str]:
    keys = [(s.key, s.name) for s in found]
    for key, name in [((On.WALLS, -1, -1), "all walls"), *keys]:
        if len(_wholes(key, coverings)) > 1:
            yield name
