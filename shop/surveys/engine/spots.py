"""Places in a room on its plan: where somebody listens, speaks, sits or looks.

Distances are from the last wall and from the first one, as on the plan itself: the first
wall runs from (0, 0) to the right, and the room lies below it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import hypot

from shared.drawing import Callout, Label, Point, Side, View, callouts
from shared.drawing.pens import FINE, INK, OUTLINE, PAPER
from shared.drawing.text import LABEL_MM
from shop.surveys.engine.room import RoomIn

VERSION = "spots-1"

R_MM = 1.3
_DEEP_MM = 3.0
_WIDE_MM = 6.0
"""How large a symbol is on paper, where nothing was read."""


@dataclass(frozen=True, slots=True)
class SpotIn:
    """A place in ticks; `kind` is seat, loudspeaker, source, desk or screen."""

    kind: str
    name: str
    left_ticks: int
    bottom_ticks: int
    height_ticks: int | None = None
    width_ticks: int | None = None

    @property
    def at(self) -> tuple[int, int]:
        """Where it is on the plan."""
        return self.left_ticks, -self.bottom_ticks


def holds(room: RoomIn, spot: SpotIn) -> bool:
    """Whether a place lies within the walls, or on them.

    The ray's way (M. Shimrat, 1962): a line from the place to the right crosses the outline
    an odd number of times.
    """
    x, y = spot.at
    ring = [(corner.x_ticks, corner.y_ticks) for corner in room.corners]
    inside = False
    for (ax, ay), (bx, by) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if _on(x, y, (ax, ay), (bx, by)):
            return True
        if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
            inside = not inside
    return inside


def _on(
    x: float, y: float, one: tuple[float, float], other: tuple[float, float]
) -> bool:
    """Whether a place lies on a wall, to a tick."""
    (ax, ay), (bx, by) = one, other
    length = hypot(bx - ax, by - ay)
    if not length:
        return False
    along = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length
    beside = abs((x - ax) * (by - ay) - (y - ay) * (bx - ax)) / length
    return beside < 1 and -1 < along < length + 1


def draw_spots(
    view: View, spots: Sequence[SpotIn], is_clear: Callable[[Label], bool]
) -> None:
    """Draw each place as a small symbol with its name, within the plan or beside it."""
    for spot in spots:
        _DRAWN.get(spot.kind, _seat)(view, spot)
    beside = [
        Callout(spot.at, spot.name) for spot in spots if not _name(view, spot, is_clear)
    ]
    callouts(view, Side.RIGHT, beside)


def _name(view: View, spot: SpotIn, is_clear: Callable[[Label], bool]) -> bool:
    """Write a place's name above or below its symbol, where there is room."""
    at = view.at(spot.at)
    for gap in (-3.4, 3.4):
        label = Label(spot.name, Point(at.x, at.y + gap), LABEL_MM)
        if is_clear(label):
            view.write(label)
            return True
    return False


def _seat(view: View, spot: SpotIn) -> None:
    view.disc(spot.at, R_MM, OUTLINE.filled(PAPER))


def _source(view: View, spot: SpotIn) -> None:
    view.disc(spot.at, R_MM, OUTLINE.filled(INK))


def _loudspeaker(view: View, spot: SpotIn) -> None:
    _box(view, spot, R_MM * 2, R_MM * 2)
    view.disc(spot.at, R_MM / 2, FINE)


def _desk(view: View, spot: SpotIn) -> None:
    _box(view, spot, _wide(view, spot), _DEEP_MM)


def _screen(view: View, spot: SpotIn) -> None:
    _box(view, spot, _wide(view, spot), 0.6)


def _wide(view: View, spot: SpotIn) -> float:
    return view.scale.paper_mm(spot.width_ticks) if spot.width_ticks else _WIDE_MM


def _box(view: View, spot: SpotIn, wide_mm: float, deep_mm: float) -> None:
    x, y = spot.at
    across, along = view.scale.ticks(wide_mm / 2), view.scale.ticks(deep_mm / 2)
    view.rect((x - across, y - along), (x + across, y + along), OUTLINE)


_DRAWN: dict[str, Callable[[View, SpotIn], None]] = {
    "seat": _seat,
    "source": _source,
    "loudspeaker": _loudspeaker,
    "desk": _desk,
    "screen": _screen,
}


def spot_words(spots: Sequence[SpotIn], show: Callable[[int], str]) -> Iterator[str]:
    """Say where each place is."""
    for spot in spots:
        name = spot.name[:1].upper() + spot.name[1:]
        where = f"{show(spot.left_ticks)} from the last wall, {show(spot.bottom_ticks)}"
        high = f", {show(spot.height_ticks)} high" if spot.height_ticks else ""
        yield f"{name}: {where} from the first{high}."
