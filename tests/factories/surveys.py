"""Rooms, surveys and their parts, as small as they may be."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from typing import Any

from shared.forms import TypedLength
from shop.clients.models import Site
from shop.people.models import Person
from shop.surveys import actions
from shop.surveys.adapter import rectangle_walls
from shop.surveys.models import (
    Axis,
    Beam,
    Covering,
    Member,
    Opening,
    Reading,
    Room,
    Spot,
    Survey,
    Wall,
    Zone,
)
from tests.factories.catalogue import make_finish
from tests.factories.clients import make_site
from tests.factories.people import make_person

MM = 320
AT = dt.datetime(2026, 3, 2, 10, 0, tzinfo=dt.UTC)


def mm(length: float) -> int:
    """Millimetres in ticks."""
    return round(length * MM)


def make_room(
    *, site: Site | None = None, name: str = "Front room", **fields: Any
) -> Room:
    """A room at a site."""
    room = Room(site=site or make_site(), name=name, **fields)
    room.index()
    room.save()
    return room


def make_surveyor() -> Person:
    """Whoever measured, made once."""
    found = Person.objects.filter(username="surveyor").first()
    return found or make_person(username="surveyor", first_name="Sunna", role="fitter")


def make_survey(
    *,
    room: Room | None = None,
    length_mm: float = 5000,
    width_mm: float = 4000,
    height_mm: float | None = 2500,
    walls_made_of: str = "",
    **fields: Any,
) -> Survey:
    """The first survey of a rectangular room."""
    by = fields.pop("measured_by", None) or make_surveyor()
    room = room or make_room()
    survey = Survey(
        room=room,
        measured_on=AT.date(),
        measured_by=by,
        height_ticks=None if height_mm is None else mm(height_mm),
        height_text="" if height_mm is None else f"{height_mm:g}",
        **fields,
    )
    walls = rectangle_walls(
        survey,
        length=TypedLength(mm(length_mm), f"{length_mm:g}"),
        width=TypedLength(mm(width_mm), f"{width_mm:g}"),
        construction=walls_made_of,
    )
    return actions.start_survey(survey, walls, use=room.use, by=by, at=AT)


def wall_of(survey: Survey, name: str = "A") -> Wall:
    """One wall of a survey."""
    return survey.walls.get(name=name)


def make_opening(
    *,
    wall: Wall,
    widths_mm: Sequence[float] = (900,),
    heights_mm: Sequence[float] = (1200,),
    diagonals_mm: Sequence[float] = (),
    from_left_mm: float | None = 500,
    sill_mm: float | None = 900,
    **fields: Any,
) -> Opening:
    """A window, by one reading of each size unless told more."""
    places: dict[str, Any] = {}
    for name, there in (("from_left", from_left_mm), ("sill", sill_mm)):
        if there is not None:
            places |= {f"{name}_ticks": mm(there), f"{name}_text": f"{there:g}"}
    opening = Opening.objects.create(wall=wall, **places | fields)
    read = (
        (Axis.WIDTH, widths_mm),
        (Axis.HEIGHT, heights_mm),
        (Axis.DIAGONAL, diagonals_mm),
    )
    for axis, sizes in read:
        for place, size in enumerate(sizes, start=1):
            Reading.objects.create(
                opening=opening,
                axis=axis,
                place=place,
                ticks=mm(size),
                text=f"{size:g}",
            )
    return opening


def make_zone(
    *, survey: Survey, wall: Wall | None = None, kind: str = "switch", **fields: Any
) -> Zone:
    """A place to keep clear, 80 × 80 mm."""
    usual: dict[str, Any] = {}
    for name, size in (("left", 300), ("bottom", 1100), ("width", 80), ("height", 80)):
        usual |= {f"{name}_ticks": mm(size), f"{name}_text": str(size)}
    return Zone.objects.create(survey=survey, wall=wall, kind=kind, **usual | fields)


def make_member(
    *, survey: Survey, wall: Wall | None = None, at_mm: float = 400, **fields: Any
) -> Member:
    """A found stud, or a joist where no wall is given."""
    read = {"at_ticks": mm(at_mm), "at_text": f"{at_mm:g}"}
    return Member.objects.create(survey=survey, wall=wall, **read | fields)


def make_beam(*, survey: Survey, **fields: Any) -> Beam:
    """A beam of 4000 × 200 mm that hangs down 300 mm."""
    usual: dict[str, Any] = {}
    for name, size in (("length", 4000), ("width", 200), ("drop", 300)):
        usual |= {f"{name}_ticks": mm(size), f"{name}_text": str(size)}
    return Beam.objects.create(survey=survey, **usual | fields)


def make_covering(*, survey: Survey, surface: str = "walls", **fields: Any) -> Covering:
    """A finish on all walls."""
    finish = fields.pop("finish", None) or make_finish()
    return Covering.objects.create(
        survey=survey, surface=surface, finish=finish, **fields
    )


def make_spot(*, survey: Survey, kind: str = "seat", **fields: Any) -> Spot:
    """A place in the middle of the usual room, with ears at 1200 mm."""
    usual: dict[str, Any] = {}
    for name, size in (("left", 2500), ("bottom", 2000), ("height", 1200)):
        usual |= {f"{name}_ticks": mm(size), f"{name}_text": str(size)}
    return Spot.objects.create(survey=survey, kind=kind, **usual | fields)
