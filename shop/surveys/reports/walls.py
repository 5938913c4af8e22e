"""Walls as the page lists them: as read, and as the closed plan draws them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from shared.conventions import current
from shop.surveys import adapter
from shop.surveys.engine import RoomIn
from shop.surveys.models import CornerKind, Wall

HALF = 180


@dataclass(frozen=True, slots=True)
class WallRow:
    """A wall: `drawn_ticks` is its length in the closed plan, nothing while that is open."""

    wall: Wall
    corner: str
    drawn_ticks: int | None
    change_ticks: int

    @property
    def is_changed(self) -> bool:
        """Whether closing the plan changed it by more than print can show."""
        conventions = current()
        by, nothing = (
            adapter.shown(t, conventions) for t in (self.changed_by_ticks, 0)
        )
        return by != nothing

    @property
    def is_longer(self) -> bool:
        """Whether closing the plan made it longer."""
        return self.change_ticks > 0

    @property
    def changed_by_ticks(self) -> int:
        """By how much closing the plan changed it, without sign."""
        return abs(self.change_ticks)

    @property
    def change_label(self) -> str:
        """What the button says that changes it."""
        return f"Change wall {self.wall}"

    @property
    def add_label(self) -> str:
        """What the button says that adds a wall after it."""
        return f"Add a wall after {self.wall}"

    @property
    def remove_label(self) -> str:
        """What the button says that takes it out."""
        return f"Take out wall {self.wall}"


def wall_rows(walls: Sequence[Wall], room: RoomIn | None) -> tuple[WallRow, ...]:
    """Return the walls of a survey in order, `room` being the same for the engine."""
    closed = room.adjusted if room else None
    following = [*walls[1:], *walls[:1]]
    return tuple(
        WallRow(
            wall=wall,
            corner=corner_words(wall, after),
            drawn_ticks=closed.lengths_ticks[n] if closed else None,
            change_ticks=closed.changes_ticks[n] if closed else 0,
        )
        for n, (wall, after) in enumerate(zip(walls, following, strict=True))
    )


def corner_words(wall: Wall, after: Wall) -> str:
    """Say how the corner at a wall's end turns, `after` being the next wall."""
    if (why := adapter.unread_corner(wall)) and wall.length_ticks is not None:
        return why
    if wall.corner == CornerKind.RIGHT:
        return "square"
    if wall.corner == CornerKind.LEFT:
        return "square, juts into the room"
    turn = adapter.turn_of(wall, after)
    if turn is None:
        return "its diagonal can’t be"
    inside = f"{HALF - turn / 1000:.1f}°".replace(".0°", "°")
    read = "measured" if wall.corner == CornerKind.ANGLE else "by its diagonal"
    return f"{inside} inside, {read}"
