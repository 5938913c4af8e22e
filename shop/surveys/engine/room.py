"""A measured room as plain values: what checks and the drawing take."""

from __future__ import annotations

from dataclasses import dataclass

from shop.surveys.engine.opening import Readings, Shape, shape_of
from shop.surveys.engine.outline import Outline, WallLine, outline


@dataclass(frozen=True, slots=True)
class OpeningIn:
    """An opening in a wall; places in ticks, from the left corner and above the floor."""

    name: str
    kind: str
    readings: Readings
    from_left_ticks: int | None = None
    sill_ticks: int | None = None
    gets_panel: bool = False

    @property
    def shape(self) -> Shape:
        """Its smallest size and how true it is."""
        return shape_of(self.readings)

    @property
    def span_ticks(self) -> tuple[int, int] | None:
        """From where to where along the wall, at its widest; nothing when not placed."""
        if self.from_left_ticks is None:
            return None
        widest = max(self.readings.widths_ticks)
        return self.from_left_ticks, self.from_left_ticks + widest

    @property
    def rise_ticks(self) -> tuple[int, int] | None:
        """From where to where above the floor, at its highest; nothing when not placed."""
        if self.sill_ticks is None:
            return None
        return self.sill_ticks, self.sill_ticks + max(self.readings.heights_ticks)


@dataclass(frozen=True, slots=True)
class ZoneIn:
    """A place to keep clear, in ticks: on a wall from its left corner and above the floor.

    On the ceiling from the last wall and from the first one.
    """

    name: str
    left_ticks: int
    bottom_ticks: int
    width_ticks: int
    height_ticks: int


@dataclass(frozen=True, slots=True)
class WallIn:
    """A wall with what is in it; its height is the one read at its left corner."""

    name: str
    line: WallLine
    height_ticks: int | None = None
    openings: tuple[OpeningIn, ...] = ()
    zones: tuple[ZoneIn, ...] = ()


@dataclass(frozen=True, slots=True)
class RoomIn:
    """A room as measured: walls clockwise, the ceiling's height and zones."""

    walls: tuple[WallIn, ...]
    height_ticks: int | None = None
    ceiling_zones: tuple[ZoneIn, ...] = ()

    @property
    def plan(self) -> Outline:
        """Its plan as read."""
        return outline([wall.line for wall in self.walls])

    def holds(self, zone: ZoneIn) -> bool:
        """Whether a zone of the ceiling lies within the box round the plan."""
        plan = self.plan
        right = max(corner.x_ticks for corner in plan.corners)
        below = -min(corner.y_ticks for corner in plan.corners)
        return (
            zone.left_ticks + zone.width_ticks <= right
            and zone.bottom_ticks + zone.height_ticks <= below
        )
