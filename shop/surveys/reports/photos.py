"""Photos of a room, of its walls and openings, in this survey and those before."""

from __future__ import annotations

import uuid
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from django.db import models

from shared.files.models import Attachment
from shop.surveys import adapter
from shop.surveys.models import Opening, Room, Survey, Wall

ROWS: dict[str, Callable[[], models.QuerySet[Any]]] = {
    "room": Room.objects.all,
    "wall": Wall.objects.with_survey,
    "opening": Opening.objects.with_survey,
}
"""What a photo may be of, by the name of its kind of record."""

Photos = dict[uuid.UUID, tuple[Attachment, ...]]


def photos_of(survey: Survey) -> Photos:
    """Return the photos of a survey's room, walls and openings, by the id of each.

    Those that were taken of the same wall in an earlier survey are there, too. For a survey
    that came `with_parts()`: three queries.
    """
    walls = list(survey.walls.all())
    openings = [opening for wall in walls for opening in wall.openings.all()]
    mine = {survey.room_id: survey.room_id}
    mine |= _same(walls, Wall.objects.of_room(survey.room_id))
    mine |= _same(openings, Opening.objects.of_room(survey.room_id))
    found: dict[uuid.UUID, list[Attachment]] = defaultdict(list)
    for photo in Attachment.objects.of_any(ROWS, mine).standing():
        found[mine[photo.record_id]].append(photo)
    return {place: tuple(photos) for place, photos in found.items()}


def _same(
    now: Iterable[Wall | Opening], ever: Iterable[Wall] | Iterable[Opening]
) -> dict[uuid.UUID, uuid.UUID]:
    """Map every row that a part was, in any survey, to what it is in this one."""
    here = {row.lineage: row.pk for row in now}
    return {row.pk: here[row.lineage] for row in ever if row.lineage in here}


@dataclass(frozen=True, slots=True)
class Pictured:
    """A room, a wall or an opening with its photos."""

    title: str
    photos: tuple[Attachment, ...]


def pictured(survey: Survey) -> tuple[Pictured, ...]:
    """Return what there are photos of, in the order of the walk. Three queries."""
    photos = photos_of(survey)
    return tuple(
        Pictured(title, photos[pk]) for pk, title in _places(survey) if pk in photos
    )


def _places(survey: Survey) -> Iterator[tuple[uuid.UUID, str]]:
    yield survey.room_id, "the room"
    for wall in survey.walls.all():
        yield wall.pk, f"wall {wall.name}"
        for opening in wall.openings.all():
            yield opening.pk, adapter.label_of(opening, wall)


def place_of(photo: Attachment) -> Any:
    """Return the room, wall or opening that a photo is of; nothing when it is gone."""
    return ROWS[photo.kind]().filter(pk=photo.record_id).first()


def room_of(place: Room | Wall | Opening) -> Room:
    """Return the room that something is, or lies in."""
    if isinstance(place, Room):
        return place
    wall = place.wall if isinstance(place, Opening) else place
    return wall.survey.room
