"""All that the page of a walk shows."""

from __future__ import annotations

from dataclasses import dataclass

from shared.files.models import Attachment
from shop.surveys.models import Survey
from shop.surveys.reports.walk.fields import Part, known_versions, part_of
from shop.surveys.reports.walk.photos import ROOM_PHOTO, photos_of
from shop.surveys.reports.walk.walls import WALL, wall_title
from shop.surveys.reports.walk.who import CLIENT, ROOM, SURVEY


@dataclass(frozen=True, slots=True)
class WalkPage:
    """What is typed on the walk."""

    client: Part
    room: Part
    survey: Part
    walls: tuple[Part, ...]
    photos: tuple[Attachment, ...]
    photo_op: str = ROOM_PHOTO


def walk_page(survey: Survey) -> WalkPage:
    """Gather the fields of a survey `with_room()` and the version of each."""
    room = survey.room
    client = room.site.client
    walls = list(survey.walls.standing())
    of_walls = known_versions(WALL, walls)
    return WalkPage(
        client=part_of(CLIENT, client, "the client", known_versions(CLIENT, [client])),
        room=part_of(ROOM, room, "the room", known_versions(ROOM, [room])),
        survey=part_of(SURVEY, survey, "the survey", known_versions(SURVEY, [survey])),
        walls=tuple(part_of(WALL, wall, wall_title(wall), of_walls) for wall in walls),
        photos=photos_of(room),
    )
