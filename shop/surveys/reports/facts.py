"""A room's facts for quotes and papers: its latest survey as plain values."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from shared.conventions import current
from shared.length import TICKS_PER_FOOT, to_m
from shared.money import show_number
from shop.clients.engine import Caution, Told
from shop.clients.engine import cautions as cautions_of_site
from shop.clients.models import Setting, Site, Tenure
from shop.clients.reports import getting_in
from shop.surveys import adapter, engine
from shop.surveys.engine import Adjusted, Fit, Outline, Shape
from shop.surveys.models import Axis, Made, Opening, Room, Survey, Wall

M_PER_FT = to_m(TICKS_PER_FOOT)


@dataclass(frozen=True, slots=True)
class MadeFacts:
    """What a surface is made of; `construction` is the code, `words` what people read."""

    construction: str = ""
    words: str = ""
    board_thickness_ticks: int | None = None
    framing_spacing_ticks: int | None = None
    heated: bool = False


@dataclass(frozen=True, slots=True)
class WallFacts:
    """One wall as read; without a length while that is not read."""

    id: uuid.UUID
    lineage: uuid.UUID
    name: str
    length_ticks: int | None
    length_text: str
    made: MadeFacts


@dataclass(frozen=True, slots=True)
class OpeningFacts:
    """One opening with its smallest size.

    `fit` is the size of a removable panel by the shop's clearance; nothing where that leaves
    nothing.
    """

    id: uuid.UUID
    lineage: uuid.UUID
    wall_id: uuid.UUID
    name: str
    kind: str
    from_left_ticks: int | None
    sill_ticks: int | None
    reveal_depth_ticks: int | None
    gets_panel: bool
    must_open: bool
    width_ticks: int
    width_text: str
    height_ticks: int
    height_text: str
    shape: Shape
    fit: Fit | None


@dataclass(frozen=True, slots=True)
class SurveyFacts:
    """One survey: walls in order, ceiling, openings, the plan as read and closed.

    Area and volume are those of the closed plan, where it can be closed.
    """

    id: uuid.UUID
    revision: int
    measured_on: dt.date
    height_ticks: int | None
    ceiling: MadeFacts
    walls: tuple[WallFacts, ...]
    openings: tuple[OpeningFacts, ...]
    outline: Outline | None
    adjusted: Adjusted | None = None
    area_m2: float | None = None
    volume_m3: float | None = None

    @property
    def volume_words(self) -> str:
        """The volume in the shop's unit; empty while the height is missing."""
        volume, conventions = self.volume_m3, current()
        if volume is None:
            return ""
        unit = "m³" if conventions.is_metric else "ft³"
        shown = volume if conventions.is_metric else volume / M_PER_FT**3
        number = show_number(Decimal(str(shown)), locale=conventions.locale, decimals=1)
        return f"{number} {unit}"


@dataclass(frozen=True, slots=True)
class SiteFacts:
    """Where the room is."""

    id: uuid.UUID
    address: str
    access_notes: str
    year_built: int | None
    tenure: str
    setting: str


@dataclass(frozen=True, slots=True)
class RoomFacts:
    """A room, its site, and its latest survey where there is one."""

    id: uuid.UUID
    name: str
    use: str
    storey: str
    sleeping_or_basement: bool
    site: SiteFacts
    survey: SurveyFacts | None
    cautions: tuple[Caution, ...]

    def as_json(self) -> dict[str, Any]:
        """Return what a frozen document keeps of the room, as plain JSON."""
        survey = self.survey
        ceiling = survey.ceiling if survey else MadeFacts()
        return {
            "id": str(self.id),
            "name": self.name,
            "use": self.use,
            "storey": self.storey,
            "sleeping_or_basement": self.sleeping_or_basement,
            "site": {
                "id": str(self.site.id),
                "address": self.site.address,
                "access_notes": self.site.access_notes,
                "year_built": self.site.year_built,
                "tenure": self.site.tenure,
                "setting": self.site.setting,
            },
            "walls": [
                {"name": wall.name, "construction": wall.made.construction}
                for wall in (survey.walls if survey else ())
            ],
            "ceiling": {
                "construction": ceiling.construction,
                "heated": ceiling.heated,
            },
        }


def room_facts(room: Room) -> RoomFacts:
    """Return a room's facts. Six queries, and up to three when it came without site."""
    return rooms_facts([room])[room.pk]


def rooms_facts(rooms: Iterable[Room]) -> dict[uuid.UUID, RoomFacts]:
    """Return the facts of rooms that came `with_site()`. Six queries for any number."""
    listed = list(rooms)
    latest = {
        survey.room_id: survey
        for survey in Survey.objects.latest_of(listed).with_parts()
    }
    return {room.pk: _facts(room, latest.get(room.pk)) for room in listed}


def _facts(room: Room, survey: Survey | None) -> RoomFacts:
    site = room.site
    return RoomFacts(
        id=room.pk,
        name=room.name,
        use=room.use,
        storey=room.storey,
        sleeping_or_basement=room.sleeping_or_basement,
        site=SiteFacts(
            site.pk,
            site.address,
            getting_in(site),
            site.year_built,
            site.tenure,
            site.setting,
        ),
        survey=survey_facts(survey) if survey else None,
        cautions=cautions_in(room, survey),
    )


def room_cautions(room: Room) -> tuple[Caution, ...]:
    """Return the cautions of a room by its latest survey and its site. Six queries."""
    survey = Survey.objects.latest_of([room]).with_parts().first()
    return cautions_in(room, survey)


def cautions_in(room: Room, survey: Survey | None) -> tuple[Caution, ...]:
    """Return a room's cautions by a survey that came `with_parts()`, and by its site."""
    of_room = engine.cautions(adapter.known_of(room, survey))
    return of_room + cautions_of_site(_told(room.site))


def _told(site: Site) -> Told:
    shared_use = site.setting in (Setting.WORK, Setting.PUBLIC)
    return Told(
        tenant=site.tenure == Tenure.TENANT if site.tenure else None,
        shared_use=shared_use if site.setting else None,
        year_built=site.year_built,
    )


def survey_facts(survey: Survey) -> SurveyFacts:
    """Return the facts of a survey that came `with_parts()`. No query."""
    room, walls = adapter.room_in(survey), list(survey.walls.all())
    openings = (
        opening_facts(opening, wall)
        for wall in walls
        for opening in wall.openings.all()
    )
    return SurveyFacts(
        id=survey.pk,
        revision=survey.revision,
        measured_on=survey.measured_on,
        height_ticks=survey.height_ticks,
        ceiling=made_facts(survey),
        walls=tuple(_wall_facts(wall) for wall in walls),
        openings=tuple(opening for opening in openings if opening),
        outline=room.plan if room else None,
        adjusted=room.adjusted if room else None,
        area_m2=room.area_m2 if room else None,
        volume_m3=room.volume_m3 if room else None,
    )


def made_facts(surface: Made) -> MadeFacts:
    """Return what a wall or a survey's ceiling is made of."""
    return MadeFacts(
        surface.construction,
        surface.get_construction_display(),
        surface.board_thickness_ticks,
        surface.framing_spacing_ticks,
        surface.heated,
    )


def _wall_facts(wall: Wall) -> WallFacts:
    return WallFacts(
        wall.pk,
        wall.lineage,
        wall.name,
        wall.length_ticks,
        wall.length_text,
        made_facts(wall),
    )


def opening_facts(opening: Opening, wall: Wall) -> OpeningFacts | None:
    """Return an opening with its smallest size; nothing while it was not read."""
    taken, readings = adapter.opening_in(opening, wall), list(opening.readings.all())
    width = adapter.smallest(readings, Axis.WIDTH)
    height = adapter.smallest(readings, Axis.HEIGHT)
    if taken is None or width is None or height is None:
        return None
    shape = taken.shape
    clearance = adapter.clearance_of(wall.survey)
    return OpeningFacts(
        id=opening.pk,
        lineage=opening.lineage,
        wall_id=wall.pk,
        name=taken.name,
        kind=opening.kind,
        from_left_ticks=opening.from_left_ticks,
        sill_ticks=opening.sill_ticks,
        reveal_depth_ticks=opening.reveal_depth_ticks,
        gets_panel=opening.gets_panel,
        must_open=opening.must_open,
        width_ticks=shape.width_ticks,
        width_text=width.text,
        height_ticks=shape.height_ticks,
        height_text=height.text,
        shape=shape,
        fit=engine.fit_in(shape, clearance_ticks=clearance),
    )
