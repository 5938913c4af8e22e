"""Where to fix what holds a panel, in words for the fitter, from the takeoff's plan."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from quotes.specs.engine.model import Hanging, HangPlan, Size, WallCleat
from shared.length import UnitSystem, show

Show = Callable[[int], str]


def where_to_fix(
    plan: HangPlan,
    frame: Size,
    *,
    units: UnitSystem = UnitSystem.METRIC,
    fraction: int = 16,
) -> tuple[str, ...]:
    """Say where cleats, points, battens or edges go, from the panel's own edges.

    Parameters
    ----------
    plan : how the panel is held. frame : its frame's size. units, fraction : how
    lengths are printed.
    """

    def length(ticks: int) -> str:
        return show(ticks, units=units, fraction=fraction, feet=False)

    match plan.kind:
        case Hanging.CLEAT:
            return tuple(_cleats(plan, length))
        case Hanging.CHAIN:
            return tuple(_points(plan, frame, length))
        case Hanging.BATTENS:
            return (
                f"On both walls the battens reach {length(plan.batten_ticks)} from the"
                " room’s corner: draw the line there.",
                f"The front stands {length(plan.projection_ticks)} out of the corner.",
            )
        case Hanging.EDGE:
            return (
                f"Held by its edge strip, {length(plan.gap_ticks)} all round. Nothing is"
                " drilled.",
            )
        case _:
            return ("Stands on its own feet. Nothing is drilled.",)


def _cleats(plan: HangPlan, length: Show) -> Iterator[str]:
    for number, cleat in enumerate(plan.wall_cleats, start=1):
        name = f"Cleat {number}" if len(plan.wall_cleats) > 1 else "Cleat"
        yield (
            f"{name} {length(cleat.length_ticks)} long: upper edge"
            f" {length(cleat.below_top_ticks)} below the panel’s top, left end"
            f" {length(cleat.left_ticks)} in from its left edge."
        )
        yield f"Holes {_holes(cleat, length)} from the cleat’s left end."
    yield (
        f"Slides {length(plan.travel_ticks)} each way. Keep"
        f" {length(plan.headroom_ticks)} free above to hook it on."
    )


def _holes(cleat: WallCleat, length: Show) -> str:
    return " and ".join(length(hole) for hole in cleat.holes)


def _points(plan: HangPlan, frame: Size, length: Show) -> Iterator[str]:
    """Name the rows and columns of the points, and how far the outer ones are apart."""
    across = sorted({point.x_ticks for point in plan.points})
    along = sorted({point.y_ticks for point in plan.points})
    yield (
        f"{len(plan.points)} points: {_places(across, length)} from the left,"
        f" {_places(along, length)} from the bottom edge of a panel"
        f" {length(frame.width_ticks)} × {length(frame.height_ticks)}."
    )
    apart = [length(places[-1] - places[0]) for places in (across, along)]
    yield (
        f"Ceiling fixings {apart[0]} apart across and {apart[1]} along, in framing. Where"
        " framing lies elsewhere, fix a rail across it first."
    )


def _places(places: list[int], length: Show) -> str:
    return " and ".join(length(place) for place in places)
