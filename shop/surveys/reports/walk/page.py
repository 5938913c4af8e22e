"""All that the page of a walk shows: its parts with their fields, in order."""

from __future__ import annotations

import uuid
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from shared.offline.reports import Versions, versions
from shop.people.models import ShopProfile
from shop.surveys import adapter
from shop.surveys.engine import Usual
from shop.surveys.models import Opening, Survey, Wall
from shop.surveys.reports.photos import Photos, photos_of
from shop.surveys.reports.walk.fields import Kind, Part, part_of
from shop.surveys.reports.walk.inside import (
    COVERING,
    SPOT,
    covering_kind,
    covering_title,
    finish_choices,
)
from shop.surveys.reports.walk.openings import OPENING
from shop.surveys.reports.walk.photos import PHOTO, photo_parts
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
from shop.surveys.reports.walk.site import SITE
from shop.surveys.reports.walk.told import told_words
from shop.surveys.reports.walk.walls import WALL, wall_title
from shop.surveys.reports.walk.who import CLIENT, ROOM, SURVEY

CEILING = "the ceiling"
KINDS = [
    kind.name
    for kind in (
        *(CLIENT, SITE, ROOM, SURVEY, WALL, OPENING, ZONE, MEMBER, BEAM),
        *(COVERING, SPOT, PHOTO),
    )
]


@dataclass(frozen=True, slots=True)
class WalkPage:
    """What is typed on the walk, and the words for what it comes to (`told`)."""

    client: Part
    site: Part
    room: Part
    survey: Part
    walls: tuple[Part, ...]
    told: str
    common: tuple[Any, ...] = COMMON
    overhead: tuple[Any, ...] = OVERHEAD


@dataclass(frozen=True, slots=True)
class _Gathered:
    """A survey `with_inside()` with what all of its parts need."""

    survey: Survey
    versions: Versions
    usual: dict[str, Usual]
    covering: Kind
    photos: Photos

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
            parts = {"coverings": tuple(self.coverings(title, opening=opening))}
            shown = part_of(OPENING, opening, title, self.versions, parts=parts)
            yield self.with_photos(shown, opening.pk)

    def coverings(
        self, where: str, *, wall: Wall | None = None, opening: Opening | None = None
    ) -> Iterator[Part]:
        on = (wall.pk if wall else None, opening.pk if opening else None)
        for covering in self.survey.coverings.all():
            if (covering.wall_id, covering.opening_id) == on:
                lies = where or covering.get_surface_display()
                title = covering_title(covering, lies)
                yield part_of(self.covering, covering, title, self.versions)

    def with_photos(self, part: Part, pk: uuid.UUID) -> Part:
        mine = self.photos.get(pk, ())
        return replace(part, photos=photo_parts(mine, part.title, self.versions))

    def spots(self) -> Iterator[Part]:
        for spot in self.survey.spots.all():
            yield part_of(SPOT, spot, str(spot), self.versions)

    def wall(self, wall: Wall) -> Part:
        title = wall_title(wall)
        shown = part_of(
            WALL,
            wall,
            title,
            self.versions,
            parts={
                "openings": tuple(self.openings(wall)),
                "zones": tuple(self.zones(wall, title)),
                "members": tuple(self.members(wall, title)),
                "coverings": tuple(self.coverings(title, wall=wall)),
            },
        )
        return self.with_photos(shown, wall.pk)

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
                "coverings": tuple(self.coverings("")),
                "spots": tuple(self.spots()),
            },
        )


def walk_page(survey: Survey, rates_of: ShopProfile | None) -> WalkPage:
    """Gather the fields of a survey `with_room()`, `with_inside()` and their versions.

    A shop goes along whose rates may be seen. Six queries.
    """
    room, client = survey.room, survey.room.site.client
    photos = photos_of(survey)
    taken = [photo.pk for mine in photos.values() for photo in mine]
    gathered = _Gathered(
        survey,
        versions(KINDS, [*_ids(survey), *taken]),
        usual_kinds(),
        covering_kind(finish_choices()),
        photos,
    )
    at = gathered.versions
    return WalkPage(
        client=part_of(CLIENT, client, "the client", at),
        site=part_of(SITE, room.site, "the site", at),
        room=gathered.with_photos(part_of(ROOM, room, "the room", at), room.pk),
        survey=gathered.ceiling(),
        walls=tuple(gathered.wall(wall) for wall in survey.walls.all()),
        told=told_words(adapter.clearance_of(survey), gathered.usual, rates_of),
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
        *survey.coverings.all(),
        *survey.spots.all(),
    ]
    return [row.pk for row in rows]
