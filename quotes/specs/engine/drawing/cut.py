"""Where an upright cut goes through a panel, and what it meets."""

from __future__ import annotations

from dataclasses import dataclass

from quotes.specs.engine.drawing.paper import Panel, wall_cleat_rows
from quotes.specs.engine.result import Box, WoodPart
from quotes.specs.engine.words import PartRole, Runs
from shared.drawing import Spot

# Shares of the width to try: the middle, then away from whatever stands there.
_CUT_SHARES = (0.5, 0.43, 0.57, 0.36, 0.64, 0.29, 0.71, 0.2, 0.8)


@dataclass(frozen=True, slots=True)
class Slice:
    """One piece of wood cut through, its outline in (z, y) ticks."""

    part: WoodPart
    corners: tuple[Spot, ...]

    @property
    def ys(self) -> tuple[int, int]:
        """Return its lowest and highest y."""
        found = [y for _, y in self.corners]
        return min(found), max(found)

    @property
    def zs(self) -> tuple[int, int]:
        """Return its foremost and rearmost z."""
        found = [z for z, _ in self.corners]
        return min(found), max(found)

    @property
    def depth(self) -> int:
        """Return how much of the panel's depth it takes, in ticks."""
        return self.zs[1] - self.zs[0]

    @property
    def middle(self) -> Spot:
        """Return a spot inside it."""
        n = len(self.corners)
        return sum(z for z, _ in self.corners) // n, sum(
            y for _, y in self.corners
        ) // n


def cut_position(panel: Panel) -> int:
    """Choose where to cut, in ticks from the left: through a hanging point if there is one.

    Elsewhere the cut keeps clear of what runs upright and goes through the wall cleat.
    """
    points = panel.takeoff.hang.points
    if points:
        return points[0].x_ticks
    upright = [
        place
        for part, place in panel.placed()
        if part.runs is Runs.UPRIGHT or part.role in {PartRole.STILE, PartRole.FOOT}
    ]
    for share in _CUT_SHARES:
        x = round(panel.width * share)
        clear = not any(p.x_ticks <= x <= p.x_ticks + p.width_ticks for p in upright)
        if clear and _meets_wall_cleat(panel, x):
            return x
    return panel.width // 2


def _meets_wall_cleat(panel: Panel, x: int) -> bool:
    cleats = panel.takeoff.hang.wall_cleats
    return not cleats or any(
        c.left_ticks < x < c.left_ticks + c.length_ticks for c in cleats
    )


def slices(panel: Panel, cut_x: int) -> tuple[Slice, ...]:
    """Return every piece of wood that the cut goes through, a wall cleat included."""
    found = [
        Slice(part, _outline(part, place))
        for part, place in panel.placed()
        if place.x_ticks <= cut_x <= place.x_ticks + place.width_ticks
    ]
    found += [
        Slice(part, _wall_cleat(panel, part, row[0].below_top_ticks))
        for part, row in wall_cleat_rows(panel)
    ]
    return tuple(found)


def _outline(part: WoodPart, place: Box) -> tuple[Spot, ...]:
    """Return the cut face; a panel cleat's lower edge rises from back to front."""
    z0, y0 = place.z_ticks, place.y_ticks
    z1, y1 = z0 + place.depth_ticks, y0 + place.height_ticks
    bevelled = part.role is PartRole.PANEL_CLEAT
    rise = part.long_face_ticks - part.short_face_ticks if bevelled else 0
    return (z0, y0 + rise), (z1, y0), (z1, y1), (z0, y1)


def _wall_cleat(panel: Panel, part: WoodPart, below_top: int) -> tuple[Spot, ...]:
    """Return the wall's half of the pair, its upper edge rising from the wall forwards."""
    back = _cleat_back(panel)
    front, top = back - part.thickness_ticks, panel.height - below_top
    low = top - part.short_face_ticks
    return (front, low), (back, low), (back, top), (front, low + part.long_face_ticks)


def _cleat_back(panel: Panel) -> int:
    """Return the depth of the panel cleat's back, against which the wall's half stands."""
    ends = [
        place.z_ticks + place.depth_ticks
        for part, place in panel.placed()
        if part.role is PartRole.PANEL_CLEAT
    ]
    return max(ends, default=panel.depth)


def fill_in_cut(
    cut: tuple[Slice, ...], height: int, z0: int, z1: int
) -> list[tuple[Spot, Spot]]:
    """Return opposite corners (z, y) of the fill between two depths.

    Wood in its way divides it; blocks are let into its back instead.
    """
    in_way = [s for s in cut if s.zs[0] < z1 and s.zs[1] > z0]
    blocks = [s for s in in_way if s.part.role is PartRole.BLOCK]
    dividing = [s.ys for s in in_way if s.part.role is not PartRole.BLOCK]
    found: list[tuple[Spot, Spot]] = []
    for low, high in _between(dividing, 0, height):
        let_in = [s.ys for s in blocks]
        found += [((z0, a), (z1, b)) for a, b in _between(let_in, low, high)]
        for block in blocks:
            a, b = max(low, block.ys[0]), min(high, block.ys[1])
            if a < b and block.zs[0] > z0:
                found.append(((z0, a), (block.zs[0], b)))
    return found


def _between(
    blocked: list[tuple[int, int]], start: int, end: int
) -> list[tuple[int, int]]:
    """Return the stretches from start to end that nothing blocks."""
    free: list[tuple[int, int]] = []
    at = start
    for low, high in sorted(blocked):
        if min(low, end) > at:
            free.append((at, min(low, end)))
        at = max(at, high)
    return [*free, (at, end)] if at < end else free
