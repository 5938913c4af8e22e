"""One view of a thing: shapes given in ticks, drawn to scale in millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import cos, radians, sin

from shared.drawing.geometry import Box, Point, box_around, union
from shared.drawing.markup import element, number
from shared.drawing.pens import BLANK, OUTLINE, Pen
from shared.drawing.scale import Axis, PlainAxis, Scale
from shared.drawing.text import Label

# (x, y) in ticks of the real thing: x to the right, y upwards.
Spot = tuple[int, int]

_LABEL_MARGIN_MM = 0.35
_NOTHING = Box(0, 0, 0, 0)


class View:
    """A to-scale picture that knows what room its lines and words take.

    The origin of the view is the real point (0, 0); the real y axis points up, the paper's
    down. Words are drawn above lines, on a patch of paper colour.
    """

    def __init__(
        self, scale: Scale, *, x_axis: Axis | None = None, y_axis: Axis | None = None
    ) -> None:
        """Start an empty view; an axis of its own may be broken."""
        self.scale = scale
        self._x: Axis = x_axis or PlainAxis(scale)
        self._y: Axis = y_axis or PlainAxis(scale)
        self._lines: list[str] = []
        self._words: list[str] = []
        self._labels: list[Label] = []
        self._taken: list[Box] = []
        self._leaders: list[tuple[Point, Point]] = []
        self._body: Box | None = None
        self._extent: Box | None = None

    def at(self, spot: Spot) -> Point:
        """Return where a real point falls on the paper."""
        return Point(self._x.mm(spot[0]), -self._y.mm(spot[1]))

    def box(self, low: Spot, high: Spot) -> Box:
        """Return the paper box of a real rectangle given by two opposite corners."""
        return box_around([self.at(low), self.at(high)])

    # -- shapes of the thing itself -------------------------------------------------

    def line(self, start: Spot, end: Spot, pen: Pen = OUTLINE) -> None:
        """Draw a straight line."""
        self.polyline([start, end], pen)

    def polyline(self, spots: Sequence[Spot], pen: Pen = OUTLINE) -> None:
        """Draw joined lines, open at the end."""
        self.shape([self.at(s) for s in spots], pen, closed=False)

    def polygon(self, spots: Sequence[Spot], pen: Pen = OUTLINE) -> None:
        """Draw a closed shape."""
        self.shape([self.at(s) for s in spots], pen)

    def rect(self, low: Spot, high: Spot, pen: Pen = OUTLINE) -> Box:
        """Draw an upright rectangle by two opposite corners; return its paper box."""
        box = self.box(low, high)
        self.draw(
            element(
                "rect",
                {
                    "x": box.left,
                    "y": box.top,
                    "width": box.width,
                    "height": box.height,
                    **pen.attributes(),
                },
            ),
            box,
        )
        return box

    def disc(self, centre: Spot, radius_mm: float, pen: Pen = OUTLINE) -> None:
        """Draw a circle whose radius is in millimetres on paper."""
        self.ring(self.at(centre), radius_mm, pen)

    def arc(
        self,
        centre: Spot,
        radius_ticks: int,
        from_degrees: float,
        to_degrees: float,
        pen: Pen = OUTLINE,
    ) -> None:
        """Draw part of a circle, anticlockwise from the x axis, at most half of it."""
        c, r = self.at(centre), self.scale.paper_mm(radius_ticks)
        ends = [
            c.moved(r * cos(radians(a)), -r * sin(radians(a)))
            for a in (from_degrees, to_degrees)
        ]
        sweep = 0 if to_degrees > from_degrees else 1
        path = f"{_pair(ends[0])} A{number(r)} {number(r)} 0 0 {sweep} {_pair(ends[1])}"
        self.draw(
            element("path", {"d": f"M{path}", **pen.attributes()}),
            box_around([c, *ends]),
        )

    # -- paper millimetres -----------------------------------------------------------

    def ring(self, centre: Point, radius_mm: float, pen: Pen = OUTLINE) -> None:
        """Draw a circle about a point of the paper."""
        where = {"cx": centre.x, "cy": centre.y, "r": radius_mm}
        box = Box(centre.x, centre.y, centre.x, centre.y).grown(radius_mm)
        self.draw(element("circle", {**where, **pen.attributes()}), box)

    def shape(
        self, points: Sequence[Point], pen: Pen = OUTLINE, *, closed: bool = True
    ) -> None:
        """Draw through points of the paper."""
        self.draw(_path(points, pen, closed=closed), box_around(points))

    def draw(self, markup: str, box: Box) -> None:
        """Add markup that belongs to the thing drawn and fills ``box``."""
        self._lines.append(markup)
        self._body = union([self._body or box, box])
        self._reach(box)

    def annotate(
        self, points: Sequence[Point], pen: Pen, *, closed: bool = False
    ) -> None:
        """Draw a line that explains the thing and is no part of it."""
        self._lines.append(_path(points, pen, closed=closed))
        self._reach(box_around(points))

    def take(self, box: Box) -> None:
        """Keep words out of a box from now on."""
        self._taken.append(box)
        self._reach(box)

    def write(self, label: Label, *, patch: bool = True) -> None:
        """Write words, on a patch of paper unless told not to; the caller found room."""
        if patch:
            box = label.patch
            where = {"x": box.left, "y": box.top}
            size = {"width": box.width, "height": box.height}
            self._words.append(element("rect", {**where, **size, **BLANK.attributes()}))
        self._words.append(label.markup())
        self._labels.append(label)
        self.take(label.box.grown(_LABEL_MARGIN_MM))

    def is_free(self, box: Box) -> bool:
        """Say whether no words and no dimension line lie in the box yet."""
        return not any(box.overlaps(other) for other in self._taken)

    def lead(self, points: Sequence[Point], pen: Pen) -> None:
        """Draw a leader, which words placed later keep off."""
        self.annotate(points, pen)
        self._leaders += pairwise(points)

    def takes_words(self, box: Box) -> bool:
        """Say whether words could stand in the box: free, and no leader through it."""
        return self.is_free(box) and not any(box.meets(a, b) for a, b in self._leaders)

    # -- what came of it -------------------------------------------------------------

    @property
    def body(self) -> Box:
        """Return the box round the thing itself, without dimensions and words."""
        return self._body or _NOTHING

    @property
    def extent(self) -> Box:
        """Return the box round everything."""
        return self._extent or _NOTHING

    def _reach(self, box: Box) -> None:
        self._extent = union([self._extent or box, box])

    def labels(self) -> tuple[Label, ...]:
        """Return all words, in the order written."""
        return tuple(self._labels)

    def markup(self) -> str:
        """Return lines, then words."""
        return "".join(self._lines) + "".join(self._words)


def _pair(point: Point) -> str:
    return f"{number(point.x)} {number(point.y)}"


def _path(points: Sequence[Point], pen: Pen, *, closed: bool) -> str:
    course = "M" + " L".join(_pair(p) for p in points) + (" Z" if closed else "")
    return element("path", {"d": course, **pen.attributes()})
