"""A measured room as plain values: what checks and the drawing take."""

from __future__ import annotations

from dataclasses import dataclass, field

from shop.surveys.engine.adjust import Adjusted, adjust, crossing
from shop.surveys.engine.ceiling import (
    Beam,
    Ceiling,
    slope_heights,
    volume_under,
)
from shop.surveys.engine.framing import ACROSS, ALONG, Framing
from shop.surveys.engine.opening import Readings, Shape, shape_of
from shop.surveys.engine.outline import (
    Corner,
    Outline,
    WallLine,
    outline,
    volume_m3,
)


@dataclass(frozen=True, slots=True)
class OpeningIn:
    """An opening in a wall; places in ticks, from the left corner and above the floor."""

    name: str
    kind: str
    readings: Readings
    from_left_ticks: int | None = None
    sill_ticks: int | None = None
    gets_panel: bool = False
    reveal_depth_ticks: int | None = None
    panel_depth_ticks: int | None = None

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
    margin_ticks: int = 0


@dataclass(frozen=True, slots=True)
class WallIn:
    """A wall with what is in it; its height is the one read at its left corner.

    `tie_fails` says that the diagonal over the corner at its end spans no triangle.
    """

    name: str
    line: WallLine
    height_ticks: int | None = None
    openings: tuple[OpeningIn, ...] = ()
    zones: tuple[ZoneIn, ...] = ()
    tie_fails: bool = False
    framing: Framing = field(default_factory=Framing)


@dataclass(frozen=True, slots=True)
class RoomIn:
    """A room as measured: walls clockwise, the ceiling's shape, height, zones and beams."""

    walls: tuple[WallIn, ...]
    height_ticks: int | None = None
    ceiling_zones: tuple[ZoneIn, ...] = ()
    ceiling: Ceiling = Ceiling.FLAT
    beams: tuple[Beam, ...] = ()
    joists: Framing = field(default_factory=Framing)

    @property
    def lines(self) -> list[WallLine]:
        """Its walls as read."""
        return [wall.line for wall in self.walls]

    @property
    def plan(self) -> Outline:
        """Its plan as read."""
        return outline(self.lines)

    @property
    def adjusted(self) -> Adjusted | None:
        """Its plan closed; nothing while a slip stands in the way."""
        return adjust(self.lines)

    @property
    def corners(self) -> tuple[Corner, ...]:
        """The corners of its plan, closed where that can be."""
        closed = self.adjusted
        return closed.corners if closed else self.plan.corners

    @property
    def area_m2(self) -> float:
        """The floor's area in m², of the plan closed where that can be."""
        closed = self.adjusted
        return closed.area_m2 if closed else self.plan.area_m2

    def corner_heights(self) -> tuple[float, ...] | None:
        """Return the ceiling's height at each corner in ticks; nothing while too few are read."""
        read = [wall.height_ticks for wall in self.walls]
        if self.ceiling is Ceiling.SLOPE:
            return slope_heights(self.corners, read)
        if self.ceiling is Ceiling.CORNERS:
            known = [height for height in read if height is not None]
            return tuple(known) if len(known) == len(read) else None
        if self.height_ticks is None:
            return None
        return (float(self.height_ticks),) * len(read)

    @property
    def volume_m3(self) -> float | None:
        """What the room holds in m³, beams taken off; nothing while heights are missing."""
        heights = self.corner_heights()
        if heights is None:
            return None
        if self.ceiling is Ceiling.FLAT:
            whole = volume_m3(self.area_m2, round(heights[0]))
        elif crossing(self.corners) is not None:
            return None
        else:
            whole = volume_under(self.corners, heights)
        return whole - sum(beam.volume_m3 for beam in self.beams)

    @property
    def joists_reach_ticks(self) -> int:
        """How far out a joist may be: joists along the first wall are found away from it.

        While nobody noted which way they run, the longer way of the box round the plan.
        """
        wide = max(corner.x_ticks for corner in self.corners)
        deep = -min(corner.y_ticks for corner in self.corners)
        ways = {ALONG: deep, ACROSS: wide}
        return round(ways.get(self.joists.run, max(wide, deep)))

    def holds(self, zone: ZoneIn) -> bool:
        """Whether a zone of the ceiling lies within the box round the plan."""
        right = max(corner.x_ticks for corner in self.corners)
        below = -min(corner.y_ticks for corner in self.corners)
        return (
            zone.left_ticks + zone.width_ticks <= right
            and zone.bottom_ticks + zone.height_ticks <= below
        )
