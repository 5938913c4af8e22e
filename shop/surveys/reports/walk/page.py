"""All that the page of a walk shows: its parts with their fields, in order."""

from __future__ import annotations

import uuid
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from shared.files.models import Attachment
from shop.surveys import adapter
from shop.surveys.engine import Usual
from shop.surveys.models import Opening, Survey, Wall
from shop.surveys.reports.walk.fields import Part, Versions, part_of
from shop.surveys.reports.walk.openings import OPENING
from shop.surveys.reports.walk.photos import ROOM_PHOTO, photos_of
from shop.surveys.reports.walk.places import (
    BEAM,
    COMMON,
    MEMBER,
    OVERHEAD,
    ZONE,
    hints_for,
    usual_kinds,
    zone_title,
)
from shop.surveys.reports.walk.told import told_words
from shop.surveys.reports.walk.versions import all_versions
from shop.surveys.reports.walk.walls import WALL, wall_title
from shop.surveys.reports.walk.who import CLIENT, ROOM, SITE, SURVEY

CEILING = "the ceiling"
KINDS = [
    kind.name
    for kind in (CLIENT, SITE, ROOM, SURVEY, WALL, OPENING, ZONE, MEMBER, BEAM)
]


@dataclass(frozen=True, slots=True)
class WalkPage:
    """What is typed on the walk, and the words for what it comes to (`told`)."""

    client: Part
    site: Part
    room: Part
    survey: Part
    walls: tuple[Part, ...]
    photos: tuple[Attachment, ...]
    told: str
    photo_op: str = ROOM_PHOTO
    common: tuple[Any, ...] = COMMON
    overhead: tuple[Any, ...] = OVERHEAD


@dataclass(frozen=True, slots=True)
class _Gathered:
    """A survey `with_parts()` with what all of its parts need."""

    survey: Survey
    versions: Versions
    usual: dict[str, Usual]

    def zones(self, wall: Wall | None, where: str) -> Iterator[Part]:
        for zone in self.survey.zones.all():
            if zone.wall_id == (wall.pk if wall else None):
                title = zone_title(zone, where)
                hints = hints_for(self.usual[zone.kind])
                yield part_of(ZONE, zone, title, self.versions, hints=hints)

    def members(self, wall: Wall | None, where: str) -> Iterator[Part]:
        found = [
            member
            for member in self.survey.members.all()
            if member.wall_id == (wall.pk if wall else None)
        ]
        for number, member in enumerate(found, start=1):
            title = f"{member} {number}, {where}"
            yield part_of(MEMBER, member, title, self.versions)

    def openings(self, wall: Wall) -> Iterator[Part]:
        for opening in wall.openings.all():
            title = adapter.label_of(opening, wall)
            yield part_of(OPENING, opening, title, self.versions)

    def wall(self, wall: Wall) -> Part:
        title = wall_title(wall)
        return part_of(
            WALL,
            wall,
            title,
            self.versions,
            parts={
                "openings": tuple(self.openings(wall)),
                "zones": tuple(self.zones(wall, title)),
                "members": tuple(self.members(wall, title)),
            },
        )

    def ceiling(self) -> Part:
        beams = (
            part_of(BEAM, beam, f"{beam} {number}", self.versions)
            for number, beam in enumerate(self.survey.beams.all(), start=1)
        )
        return part_of(
            SURVEY,
            self.survey,
            CEILING,
            self.versions,
            parts={
                "zones": tuple(self.zones(None, CEILING)),
                "members": tuple(self.members(None, CEILING)),
                "beams": tuple(beams),
            },
        )


def walk_page(survey: Survey) -> WalkPage:
    """Gather the fields of a survey `with_room()`, `with_parts()` and their versions.

    Three queries.
    """
    room, client = survey.room, survey.room.site.client
    gathered = _Gathered(survey, all_versions(KINDS, _ids(survey)), usual_kinds())
    versions = gathered.versions
    return WalkPage(
        client=part_of(CLIENT, client, "the client", versions),
        site=part_of(SITE, room.site, "the site", versions),
        room=part_of(ROOM, room, "the room", versions),
        survey=gathered.ceiling(),
        walls=tuple(gathered.wall(wall) for wall in survey.walls.all()),
        photos=photos_of(room),
        told=told_words(adapter.clearance_of(survey)),
    )


def _ids(survey: Survey) -> list[uuid.UUID]:
    """Return the ids of all records that the page writes to."""
    site = survey.room.site
    walls = list(survey.walls.all())
    openings: list[Opening] = [o for wall in walls for o in wall.openings.all()]
    rows: list[Any] = [
        *(site.client, site, survey.room, survey),
        *walls,
        *openings,
        *survey.zones.all(),
        *survey.members.all(),
        *survey.beams.all(),
    ]
    return [row.pk for row in rows]
