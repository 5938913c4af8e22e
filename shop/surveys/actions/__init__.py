"""Write down rooms and what is measured in them."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Sequence
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import F

from shared.audit.actions import record
from shop.clients.actions import add_site, restore_site
from shop.clients.models import Site
from shop.people.models import Person
from shop.surveys.models import (
    Beam,
    Covering,
    Furniture,
    Made,
    Member,
    Opening,
    Reading,
    Room,
    Spot,
    Survey,
    Wall,
    Zone,
)

Part = Wall | Opening | Zone | Member | Beam | Covering | Spot
"""What a survey is made of, each of which may be taken out and put back."""

FEWEST_WALLS = 3

CEILING = (
    "height_ticks",
    "height_text",
    "ceiling_shape",
    *(field.name for field in Made._meta.get_fields()),
)
"""What a survey says of the ceiling."""


@transaction.atomic
def add_room(
    room: Room, *, new_site: Site | None = None, by: Person, at: dt.datetime
) -> Room:
    """Write down a room, with its site where that is new."""
    if new_site is not None:
        room.site = add_site(new_site, by=by, at=at)
    elif room.site.is_archived:  # put aside while a device was away
        restore_site(room.site, by=by, at=at)
    _store_room(room)
    record(room, verb="add", text="Room written down", by=by, at=at)
    return room


def _store_room(room: Room) -> None:
    room.index()
    room.full_clean()
    room.save()


@transaction.atomic
def change_room(room: Room, *, by: Person, at: dt.datetime) -> None:
    """Store what is changed of a room."""
    _store_room(room)
    record(room, verb="change", text="Room changed", by=by, at=at)


@transaction.atomic
def archive_room(room: Room, *, by: Person, at: dt.datetime) -> None:
    """Put a room aside; its surveys stay."""
    room.archived_at = at
    room.save(update_fields=["archived_at"])
    record(room, verb="archive", text="Put aside", by=by, at=at)


@transaction.atomic
def restore_room(room: Room, *, by: Person, at: dt.datetime) -> None:
    """Take a room up again, and the address it is at."""
    if room.site.is_archived:
        restore_site(room.site, by=by, at=at)
    room.archived_at = None
    room.save(update_fields=["archived_at"])
    record(room, verb="restore", text="Taken up again", by=by, at=at)


@transaction.atomic
def start_survey(
    survey: Survey,
    walls: Sequence[Wall],
    *,
    use: str,
    by: Person,
    at: dt.datetime,
    follows: Survey | None = None,
) -> Survey:
    """Store a survey of a room with new walls, and what the room is used for.

    It is the first one, unless it is said which it follows.
    """
    _number(survey, follows=follows)
    survey.save()
    for wall in walls:
        wall.survey = survey
        wall.full_clean()
        wall.save()
    _use(survey.room, use)
    text = f"Survey {survey.revision} begun"
    record(survey.room, verb="survey", text=text, by=by, at=at)
    return survey


@transaction.atomic
def repeat_survey(
    survey: Survey, *, follows: Survey, by: Person, at: dt.datetime
) -> Survey:
    """Begin the next survey with all that the last one holds; each part keeps its lineage.

    What was taken out of the last one is not taken over.
    """
    for name in CEILING:
        setattr(survey, name, getattr(follows, name))
    _number(survey, follows=follows)
    survey.save()
    walls = {
        wall.pk: _again(wall, at, survey=survey) for wall in follows.walls.standing()
    }
    Wall.objects.bulk_create(walls.values())
    openings = {
        opening.pk: _again(opening, at, wall=walls[opening.wall_id])
        for opening in Opening.objects.standing().filter(wall__survey=follows)
    }
    Opening.objects.bulk_create(openings.values())
    Reading.objects.bulk_create(
        _again(reading, at, opening=openings[reading.opening_id])
        for reading in Reading.objects.filter(opening__in=openings)
    )
    Zone.objects.bulk_create(
        _again(
            zone, at, survey=survey, wall=walls[zone.wall_id] if zone.wall_id else None
        )
        for zone in follows.zones.standing()
    )
    Member.objects.bulk_create(
        _again(
            member,
            at,
            survey=survey,
            wall=walls[member.wall_id] if member.wall_id else None,
        )
        for member in follows.members.standing()
    )
    Beam.objects.bulk_create(
        _again(beam, at, survey=survey) for beam in follows.beams.standing()
    )
    _furnish_again(survey, follows, walls=walls, openings=openings, at=at)
    text = f"Survey {survey.revision} begun from survey {follows.revision}"
    record(survey.room, verb="survey", text=text, by=by, at=at)
    return survey


def _furnish_again(
    survey: Survey,
    follows: Survey,
    *,
    walls: dict[uuid.UUID, Wall],
    openings: dict[uuid.UUID, Opening],
    at: dt.datetime,
) -> None:
    """Take over what is in the room: finishes, furniture, places."""
    Covering.objects.bulk_create(
        _again(
            covering,
            at,
            survey=survey,
            wall=walls[covering.wall_id] if covering.wall_id else None,
            opening=openings[covering.opening_id] if covering.opening_id else None,
        )
        for covering in follows.coverings.standing()
    )
    Furniture.objects.bulk_create(
        _again(row, at, survey=survey) for row in follows.furniture.all()
    )
    Spot.objects.bulk_create(
        _again(spot, at, survey=survey) for spot in follows.spots.standing()
    )


def _number(survey: Survey, *, follows: Survey | None) -> None:
    """Give a new survey its number; refuse when another one was begun meanwhile."""
    # Two who begin at once wait for each other here.
    room = Room.objects.select_for_update().get(pk=survey.room_id)
    latest = room.surveys.newest_first().first()
    if latest != follows:
        raise ValidationError(
            f"Survey {latest.revision if latest else 0} was begun meanwhile. Go back to"
            " the room and carry on there."
        )
    survey.revision = latest.revision + 1 if latest else 1
    survey.full_clean()


def _again(row: Any, at: dt.datetime, **fields: Any) -> Any:
    """Return a new, unsaved row with the same columns, some of them changed."""
    same = {
        f.attname: getattr(row, f.attname)
        for f in row._meta.concrete_fields
        if f.name not in fields
    }
    return type(row)(**same | {"id": uuid.uuid4(), "created_at": at} | fields)


def touch(survey: Survey) -> None:
    """Refuse to change history; count the change."""
    later = Survey.objects.filter(room=survey.room_id, revision__gt=survey.revision)
    newest = later.newest_first().first()
    if newest is not None:
        raise ValidationError(
            f"Survey {survey.revision} is history: survey {newest.revision} follows it."
            " Change that one."
        )
    Survey.objects.filter(pk=survey.pk).update(version=F("version") + 1)
    survey.refresh_from_db(fields=["version"])


def store_part(part: Part, survey: Survey, *, by: Person, at: dt.datetime) -> None:
    """Store a part of a survey, new or changed. Call it inside a transaction."""
    touch(survey)
    part.full_clean()
    part.save()
    note_stored(part, survey, by=by, at=at)


def note_stored(part: Part, survey: Survey, *, by: Person, at: dt.datetime) -> None:
    """Write down that a part was stored."""
    text = f"Survey {survey.revision}: {_name(part)} stored"
    record(survey.room, verb="measure", text=text, by=by, at=at)


def _name(part: Part) -> str:
    return f"wall {part}" if isinstance(part, Wall) else str(part)


@transaction.atomic
def change_survey(survey: Survey, *, use: str, by: Person, at: dt.datetime) -> None:
    """Store ceiling, height, day and notes of a survey, and what the room is used for."""
    touch(survey)
    survey.full_clean()
    survey.save()
    _use(survey.room, use)
    text = f"Survey {survey.revision}: ceiling and notes stored"
    record(survey.room, verb="measure", text=text, by=by, at=at)


def _use(room: Room, use: str) -> None:
    if room.use != use:
        room.use = use
        _store_room(room)


@transaction.atomic
def change_wall(wall: Wall, *, by: Person, at: dt.datetime) -> None:
    """Store a wall's reading and what it is made of."""
    store_part(wall, wall.survey, by=by, at=at)


@transaction.atomic
def add_wall(wall: Wall, *, after: Wall, by: Person, at: dt.datetime) -> Wall:
    """Put a new wall into the walk, after another one."""
    _make_room(wall.survey, after.position + 1)
    wall.position = after.position + 1
    store_part(wall, wall.survey, by=by, at=at)
    return wall


def _make_room(survey: Survey, position: int) -> None:
    """Move the walls from a position on by one, the last of them first."""
    for wall in survey.walls.standing().filter(position__gte=position).reverse():
        wall.position += 1
        wall.save(update_fields=["position"])


@transaction.atomic
def store_beam(beam: Beam, *, by: Person, at: dt.datetime) -> Beam:
    """Store a beam or soffit, new or changed."""
    store_part(beam, beam.survey, by=by, at=at)
    return beam


@transaction.atomic
def store_opening(
    opening: Opening, readings: Sequence[Reading], *, by: Person, at: dt.datetime
) -> Opening:
    """Store an opening, new or changed, with exactly these readings."""
    store_part(opening, opening.wall.survey, by=by, at=at)
    opening.readings.all().delete()
    for reading in readings:
        reading.opening = opening
        reading.full_clean()
        reading.save()
    return opening


@transaction.atomic
def store_zone(zone: Zone, *, by: Person, at: dt.datetime) -> Zone:
    """Store a place to keep clear, new or changed."""
    store_part(zone, zone.survey, by=by, at=at)
    return zone


@transaction.atomic
def store_member(member: Member, *, by: Person, at: dt.datetime) -> Member:
    """Store a found stud or joist, new or changed."""
    store_part(member, member.survey, by=by, at=at)
    return member


def survey_of(part: Part) -> Survey:
    """Return the survey that a part belongs to."""
    return part.wall.survey if isinstance(part, Opening) else part.survey


@transaction.atomic
def take_out(part: Part, *, by: Person, at: dt.datetime) -> None:
    """Take a part out of its survey, a wall with all that is on it; it can be put back."""
    survey = survey_of(part)
    touch(survey)
    if isinstance(part, Wall) and survey.walls.standing().count() <= FEWEST_WALLS:
        raise ValidationError("A room has three walls or more: this one stays.")
    part.removed_at = at
    part.save(update_fields=["removed_at"])
    text = f"Survey {survey.revision}: {_name(part)} taken out"
    record(survey.room, verb="measure", text=text, by=by, at=at)


@transaction.atomic
def put_back(part: Part, *, by: Person, at: dt.datetime) -> None:
    """Put a part back that was taken out, a wall to its old place in the walk."""
    survey = survey_of(part)
    touch(survey)
    if isinstance(part, Wall) and part.removed_at is not None:
        _make_room(survey, part.position)
    part.removed_at = None
    part.save(update_fields=["removed_at"])
    text = f"Survey {survey.revision}: {_name(part)} put back"
    record(survey.room, verb="measure", text=text, by=by, at=at)
