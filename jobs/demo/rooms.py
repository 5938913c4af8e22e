"""Rooms as the demo measures and plans them: lengths are written as a person types them."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field

from quotes.specs.actions import PanelChoice, plan_panels
from quotes.specs.engine.model import NominalSize
from quotes.specs.models import BuildSpec
from shared.conventions import current, today
from shared.forms import TypedLength
from shared.length import parse
from shop.catalogue.models import Material
from shop.people.models import Person
from shop.surveys.actions import (
    add_room,
    start_survey,
    store_opening,
    store_zone,
)
from shop.surveys.actions.inside import count_furniture, finish_room, store_spot
from shop.surveys.adapter import rectangle_walls, smallest
from shop.surveys.engine.presets import PRESETS
from shop.surveys.models import (
    Axis,
    Opening,
    OpeningKind,
    Reading,
    Room,
    Spot,
    SpotKind,
    Survey,
    Wall,
    Zone,
    ZoneKind,
)


@dataclass(frozen=True, slots=True)
class Place:
    """Where somebody listens, speaks or plays: from the last wall, from the first, high."""

    kind: SpotKind
    name: str
    left: str
    bottom: str
    height: str


@dataclass(frozen=True, slots=True)
class Measured:
    """A rectangular room as measured, with what is in it where that is known by then."""

    length: str
    width: str
    height: str
    walls: str
    ceiling: str
    notes: str = ""
    counts: dict[str, int] = field(default_factory=dict)
    places: tuple[Place, ...] = ()


def typed(text: str) -> TypedLength:
    """Read a length as the shop's own people would type it."""
    return TypedLength(parse(text, units=current().unit_system), text)


def measure(
    room: Room, measured: Measured, *, by: Person, at: dt.datetime
) -> dict[str, Wall]:
    """Write a room down with its first survey; return the walls by name."""
    add_room(room, by=by, at=at)
    height = typed(measured.height)
    survey = Survey(
        room=room,
        measured_on=today(at),
        measured_by=by,
        height_ticks=height.ticks,
        height_text=height.text,
        construction=measured.ceiling,
        notes=measured.notes,
    )
    walls = rectangle_walls(
        survey,
        length=typed(measured.length),
        width=typed(measured.width),
        construction=measured.walls,
    )
    start_survey(survey, walls, use=room.use, by=by, at=at)
    named = {wall.name: wall for wall in walls}
    if measured.counts:
        furnish(named, measured.counts, *measured.places, by=by, at=at)
    return named


@dataclass(frozen=True, slots=True)
class Hole:
    """An opening with its readings each way, from top and left."""

    kind: OpeningKind
    name: str
    from_left: str
    sill: str
    widths: tuple[str, ...]
    heights: tuple[str, ...]
    diagonals: tuple[str, ...] = ()
    reveal: str = ""
    gets_panel: bool = False
    must_open: bool = False


def open_wall(wall: Wall, hole: Hole, *, by: Person, at: dt.datetime) -> Opening:
    """Write down a window, door or recess with its readings."""
    from_left, sill = typed(hole.from_left), typed(hole.sill)
    reveal = typed(hole.reveal) if hole.reveal else None
    opening = Opening(
        wall=wall,
        kind=hole.kind,
        name=hole.name,
        from_left_ticks=from_left.ticks,
        from_left_text=from_left.text,
        sill_ticks=sill.ticks,
        sill_text=sill.text,
        reveal_depth_ticks=reveal.ticks if reveal else None,
        reveal_depth_text=reveal.text if reveal else "",
        gets_panel=hole.gets_panel,
        must_open=hole.must_open,
    )
    read = {
        Axis.WIDTH: hole.widths,
        Axis.HEIGHT: hole.heights,
        Axis.DIAGONAL: hole.diagonals,
    }
    readings = [
        Reading(axis=axis, place=place, ticks=length.ticks, text=length.text)
        for axis, texts in read.items()
        for place, length in enumerate(map(typed, texts), 1)
    ]
    return store_opening(opening, readings, by=by, at=at)


def keep_clear(
    wall: Wall, kind: ZoneKind, *box: str, by: Person, at: dt.datetime
) -> Zone:
    """Write down a place to keep clear: left, bottom, width, height."""
    sides = ("left", "bottom", "width", "height")
    read = {side: typed(text) for side, text in zip(sides, box, strict=True)}
    ticks = {f"{side}_ticks": length.ticks for side, length in read.items()}
    texts = {f"{side}_text": length.text for side, length in read.items()}
    zone = Zone(survey=wall.survey, wall=wall, kind=kind, **ticks, **texts)
    return store_zone(zone, by=by, at=at)


def furnish(
    walls: dict[str, Wall],
    counts: dict[str, int],
    *places: Place,
    by: Person,
    at: dt.datetime,
) -> None:
    """Write down what is in a measured room, finished as its use is usually."""
    survey = walls["A"].survey
    finish_room(survey, PRESETS[survey.room.use], by=by, at=at)
    count_furniture(survey, counts, by=by, at=at)
    for place in places:
        spot = Spot(survey=survey, kind=place.kind, name=place.name)
        for side in ("left", "bottom", "height"):
            read = typed(getattr(place, side))
            setattr(spot, f"{side}_ticks", read.ticks)
            setattr(spot, f"{side}_text", read.text)
        store_spot(spot, by=by, at=at)


@dataclass(frozen=True, slots=True)
class Wish:
    """Like panels for a room: which build, how many, what size, in which cloth."""

    preset: str
    quantity: int
    size: tuple[str, str] = ("", "")
    fabric: str = ""
    opening: Opening | None = None
    note: str = ""


def plan(room: Room, *wishes: Wish, by: Person, at: dt.datetime) -> None:
    """Plan panels for a room; those for an opening take its smallest readings.

    A minute lies between two wishes, since panels are listed in the order of time.
    """
    for minutes, wish in enumerate(wishes):
        then = at + dt.timedelta(minutes=minutes)
        plan_panels(room, _choice(wish), by=by, at=then)


def _choice(wish: Wish) -> PanelChoice:
    width, height = _size(wish)
    return PanelChoice(
        spec=BuildSpec.objects.get(preset=wish.preset),
        size=NominalSize(width.ticks, height.ticks),
        width_text=width.text,
        height_text=height.text,
        fabric=Material.objects.get(code=wish.fabric) if wish.fabric else None,
        opening=wish.opening,
        quantity=wish.quantity,
        note=wish.note,
    )


def _size(wish: Wish) -> tuple[TypedLength, TypedLength]:
    if wish.opening is None:
        width, height = map(typed, wish.size)
        return width, height
    readings = list(wish.opening.readings.all())
    found = [smallest(readings, axis) for axis in (Axis.WIDTH, Axis.HEIGHT)]
    (width, height) = (TypedLength(r.ticks, r.text) for r in found if r is not None)
    return width, height
