"""How drawings of a room are written: units, titles, and the same in sentences."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from shared.drawing import (
    IMPERIAL_SCALES,
    METRIC_SCALES,
    Box,
    Drawing,
    Scale,
    largest_scale,
)
from shared.length import UnitSystem, show
from shop.surveys.engine.outline import FULL_TURN, QUARTER
from shop.surveys.engine.room import OpeningIn, RoomIn, WallIn, ZoneIn


@dataclass(frozen=True, slots=True)
class Paper:
    """How a drawing is written: `key` begins each id in it, `title` names it."""

    key: str
    title: str
    units: UnitSystem
    fraction: int = 16

    def length(self, ticks: int) -> str:
        """Print a length for a dimension line: bare millimetres, or feet and inches."""
        bare = self.units is UnitSystem.METRIC
        return show(ticks, units=self.units, fraction=self.fraction, unit_mark=not bare)

    def sentence(self, ticks: int) -> str:
        """Print a length for a sentence."""
        return show(ticks, units=self.units, fraction=self.fraction)

    @property
    def sizes(self) -> str:
        """Say what bare figures mean."""
        metric = self.units is UnitSystem.METRIC
        return "Sizes in millimetres" if metric else "Sizes in feet and inches"

    def scale(self, *sides: tuple[float, float]) -> Scale:
        """Return the largest usual scale at which each real length fits its room in mm."""
        scales = METRIC_SCALES if self.units is UnitSystem.METRIC else IMPERIAL_SCALES
        found = (largest_scale(round(real), mm, scales) for real, mm in sides)
        return max(found, key=lambda scale: scale.denominator)


@dataclass(frozen=True, slots=True)
class RoomPlan:
    """A drawing as SVG, its scale, and the same in sentences."""

    svg: str
    scale: str
    words: tuple[str, ...]


def trim_to(drawing: Drawing, least_mm: float) -> None:
    """Cut the sheet to what is on it, but no narrower than so much.

    A page draws each as wide as it has room: a small one would be blown up.
    """
    drawing.trim()
    cut = drawing.paper
    spare = max(0.0, least_mm - cut.width) / 2
    drawing.paper = Box(cut.left - spare, cut.top, cut.right + spare, cut.bottom)


Show = Callable[[int], str]


def plan_words(room: RoomIn, show_length: Show) -> Iterator[str]:
    """Say what the plan shows, wall by wall."""
    for wall in room.walls:
        yield f"Wall {wall.name} is {show_length(wall.line.length_ticks)} long."
        turn = wall.line.turn_millidegrees
        if turn == -QUARTER:
            yield f"After wall {wall.name} the corner juts into the room."
        elif turn != QUARTER:
            inside = (FULL_TURN / 2 - turn) / 1000
            yield f"The corner after wall {wall.name} is {inside:.1f}° inside."
        for opening in wall.openings:
            yield opening_words(opening, show_length)
        for zone in wall.zones:
            yield f"Wall {wall.name}: keep clear of the {zone.name}."
    for zone in room.ceiling_zones:
        yield f"Ceiling: keep clear of the {zone.name}."


def opening_words(opening: OpeningIn, show_length: Show) -> str:
    """Say an opening's size and where it begins."""
    shape = opening.shape
    size = f"{show_length(shape.width_ticks)} × {show_length(shape.height_ticks)}"
    start = opening.from_left_ticks
    if start is None:
        where = "not on the drawing, since its distance from the left was not read"
    else:
        where = f"{show_length(start)} from the left corner"
    name = opening.name[:1].upper() + opening.name[1:]
    return f"{name}: {size}, {where}."


def elevation_words(wall: WallIn, show_length: Show) -> Iterator[str]:
    """Say what a wall's elevation shows, from left to right."""
    yield f"Wall {wall.name} is {show_length(wall.line.length_ticks)} long."
    for opening in wall.openings:
        yield opening_words(opening, show_length)
        if opening.sill_ticks is not None and opening.from_left_ticks is not None:
            yield f"Its sill is {show_length(opening.sill_ticks)} above the floor."
    for zone in wall.zones:
        yield zone_words(zone, show_length)
    if found := wall.framing.members_ticks:
        places = ", ".join(show_length(at) for at in found)
        yield f"Studs found, from the left corner: {places}."


def zone_words(zone: ZoneIn, show_length: Show) -> str:
    """Say where a place to keep clear lies on its wall."""
    size = f"{show_length(zone.width_ticks)} × {show_length(zone.height_ticks)}"
    margin = zone.margin_ticks
    round_it = f", and {show_length(margin)} round it" if margin else ""
    return (
        f"Keep clear of the {zone.name}: {size}, {show_length(zone.left_ticks)} from the"
        f" left corner, {show_length(zone.bottom_ticks)} above the floor{round_it}."
    )
