"""Begin a survey that was begun on a device: client, site, room and walls at once."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Iterator
from dataclasses import dataclass
from string import ascii_uppercase

from django.core.exceptions import ValidationError
from django.db import transaction

from shared.conventions import current
from shop.clients.actions import add_client, add_site
from shop.clients.models import Client, ClientDetails, Site
from shop.people.models import Person
from shop.surveys.actions import FEWEST_WALLS, add_room, start_survey
from shop.surveys.adapter import corner_of
from shop.surveys.engine import QUARTER, SHAPES
from shop.surveys.models import CornerKind, Room, Survey, Wall

ROOM_NAME = "Room"
ADDRESS = "Address not asked yet"


@dataclass(frozen=True, slots=True)
class Ids:
    """The ids that the device gave; client and site are missing where the room is known."""

    survey: uuid.UUID
    room: uuid.UUID
    walls: tuple[uuid.UUID, ...]
    site: uuid.UUID | None = None
    client: uuid.UUID | None = None


@transaction.atomic
def begin_survey(ids: Ids, *, shape: str, by: Person, at: dt.datetime) -> Survey:
    """Begin a survey under the ids of a device; what is there already stays as it is.

    What nobody typed yet gets a name that says so.
    """
    known = Survey.objects.filter(pk=ids.survey).first()
    if known is not None:
        return known
    if not FEWEST_WALLS <= len(ids.walls) <= len(ascii_uppercase):
        raise ValidationError("A room has three walls or more, and 26 at most.")
    room = _room(ids, by=by, at=at)
    latest = room.surveys.newest_first().first()
    survey = Survey(
        pk=ids.survey,
        room=room,
        measured_on=at.astimezone(current().zone).date(),
        measured_by=by,
    )
    walls = list(_walls(survey, ids.walls, shape))
    _take_lineage(walls, latest)
    return start_survey(survey, walls, use=room.use, by=by, at=at, follows=latest)


def _room(ids: Ids, *, by: Person, at: dt.datetime) -> Room:
    known: Room | None = Room.objects.filter(pk=ids.room).first()
    if known is not None:
        return known
    room = Room(pk=ids.room, site=_site(ids, by=by, at=at), name=ROOM_NAME)
    return add_room(room, by=by, at=at)


def _site(ids: Ids, *, by: Person, at: dt.datetime) -> Site:
    known: Site | None = Site.objects.filter(pk=ids.site).first() if ids.site else None
    if known is not None:
        return known
    if ids.site is None or ids.client is None:
        raise ValidationError("The room that was to be measured is no longer there.")
    client = _client(ids.client, by=by, at=at)
    return add_site(Site(pk=ids.site, client=client, address=ADDRESS), by=by, at=at)


def _client(pk: uuid.UUID, *, by: Person, at: dt.datetime) -> Client:
    known: Client | None = Client.objects.filter(pk=pk).first()
    if known is not None:
        return known
    here = at.astimezone(current().zone)
    details = ClientDetails(name=f"New client, {here.day} {here:%b %H:%M}")
    return add_client(details, client=Client(pk=pk), by=by, at=at)


def _walls(survey: Survey, ids: tuple[uuid.UUID, ...], shape: str) -> Iterator[Wall]:
    """Make the walls; a corner of no right angle is one whose angle is to be read."""
    usual = SHAPES.get(shape)
    fits = usual is not None and len(usual.turns) == len(ids)
    turns = usual.turns if usual and fits else (QUARTER,) * len(ids)
    for position, (pk, turn) in enumerate(zip(ids, turns, strict=True)):
        corner = corner_of(turn)
        yield Wall(
            pk=pk,
            survey=survey,
            position=position,
            name=ascii_uppercase[position],
            corner=corner,
            turn_millidegrees=-QUARTER if corner == CornerKind.LEFT else QUARTER,
        )


def _take_lineage(walls: list[Wall], latest: Survey | None) -> None:
    """Take walls for those of the last survey where there are as many of them."""
    before = list(latest.walls.standing()) if latest else []
    if len(before) == len(walls):
        for wall, same in zip(walls, before, strict=True):
            wall.lineage = same.lineage
