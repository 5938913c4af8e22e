"""Usual shapes of rooms, each a walk of which only the lengths are missing."""

from __future__ import annotations

from dataclasses import dataclass
from string import ascii_uppercase

from shared.length import TICKS_PER_MM
from shop.surveys.engine.outline import FULL_TURN, QUARTER, WallLine
from shop.surveys.engine.room import RoomIn, WallIn

CUT = -1
"""Stands for a turn that follows from the angle of the cut corner."""

_SPLAY = FULL_TURN * 3 // 4


@dataclass(frozen=True, slots=True)
class RoomShape:
    """A shape: the turn at each wall's end in millidegrees, and lengths of a sample in mm."""

    key: str
    label: str
    turns: tuple[int, ...]
    sample_mm: tuple[int, ...]

    @property
    def names(self) -> str:
        """The walls' letters in the order of the walk."""
        return ascii_uppercase[: len(self.turns)]

    @property
    def has_cut(self) -> bool:
        """Whether one corner is cut off at an angle that has to be measured."""
        return CUT in self.turns

    def turns_at(self, inside_millidegrees: int) -> tuple[int, ...]:
        """Return the turns, where the cut begins with this angle inside the room.

        The other end of the cut has what is left of 270 degrees.
        """
        rest = iter((inside_millidegrees, _SPLAY - inside_millidegrees))
        return tuple(
            FULL_TURN // 2 - next(rest) if turn == CUT else turn for turn in self.turns
        )

    def sample(self) -> RoomIn:
        """Return a room of this shape, to be drawn without figures."""
        turns = self.turns_at(QUARTER + QUARTER // 2)
        walls = zip(self.names, self.sample_mm, turns, strict=True)
        return RoomIn(
            tuple(
                WallIn(name, WallLine(mm * TICKS_PER_MM, turn, angle_read=self.has_cut))
                for name, mm, turn in walls
            )
        )


_R, _L = QUARTER, -QUARTER

SHAPES = {
    shape.key: shape
    for shape in (
        RoomShape(
            "l",
            "L shape",
            (_R, _R, _R, _L, _R, _R),
            (6000, 4000, 3000, 1600, 3000, 2400),
        ),
        RoomShape(
            "alcove",
            "alcove",
            (_L, _R, _R, _L, _R, _R, _R, _R),
            (2000, 900, 2000, 900, 2000, 3000, 6000, 3000),
        ),
        RoomShape(
            "cut", "cut corner", (CUT, CUT, _R, _R, _R), (4800, 1697, 2600, 6000, 3800)
        ),
        RoomShape(
            "l_cut",
            "L shape with a cut corner",
            (CUT, CUT, _R, _R, _L, _R, _R),
            (4800, 1697, 2800, 3000, 1600, 3000, 2400),
        ),
    )
}
"""By key; a rectangle has a quicker way of its own, by two numbers."""
