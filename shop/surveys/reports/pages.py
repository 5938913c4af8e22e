"""What the pages of rooms and surveys show."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from django.http import HttpRequest
from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe

from shared.access import Right, may
from shared.audit.reports import LogLine, log_of
from shared.conventions import current
from shared.slots import Section
from shop.clients.engine import Caution
from shop.clients.models import Client
from shop.clients.reports import getting_in
from shop.surveys import adapter, engine
from shop.surveys.adapter.inside import spots_in
from shop.surveys.models import Beam, Opening, Room, Survey, Wall, Zone
from shop.surveys.reports.before import missing, needed, unread_walls
from shop.surveys.reports.differences import Difference, differences
from shop.surveys.reports.facts import (
    OpeningFacts,
    SurveyFacts,
    cautions_in,
    opening_facts,
    survey_facts,
)
from shop.surveys.reports.inside import Inside, inside
from shop.surveys.reports.members import MemberRow, member_rows
from shop.surveys.reports.photos import Pictured, pictured
from shop.surveys.reports.reveals import as_read, reveal_words
from shop.surveys.reports.walls import WallRow, wall_rows

CLOSED_BY = {
    engine.Method.AXES: "axis by axis, in proportion to length; right angles held",
    engine.Method.COMPASS: "angles first, then by the compass rule",
}


@dataclass(frozen=True, slots=True)
class OpeningRow:
    """An opening as a list shows it; `facts` are missing while it was not read."""

    opening: Opening
    wall: Wall
    facts: OpeningFacts | None
    label: str

    @property
    def change_label(self) -> str:
        """What the button says that changes it."""
        return f"Change {self.label}"

    @property
    def remove_label(self) -> str:
        """What the button says that takes it out."""
        return f"Take out {self.label}"

    @property
    def reveal(self) -> str:
        """What a panel in it hangs on, in words."""
        return reveal_words(self.opening)

    @property
    def as_read(self) -> tuple[str, ...]:
        """Every reading, where there are several."""
        return tuple(as_read(self.opening))

    @property
    def is_true(self) -> bool:
        """Whether its readings agree and its diagonals, where read, are alike."""
        shape = self.facts.shape if self.facts else None
        if shape is None:
            return True
        lean = shape.lean.lean_ticks if shape.lean else 0
        return not (shape.width_spread_ticks or shape.height_spread_ticks or lean)

    @property
    def lean_ticks(self) -> int:
        """How far its top stands beside its bottom, rounded to a tick."""
        lean = self.facts.shape.lean if self.facts else None
        return round(abs(lean.lean_ticks)) if lean else 0

    @property
    def lean_degrees(self) -> float:
        """How far its sides lean, in degrees."""
        lean = self.facts.shape.lean if self.facts else None
        return abs(lean.degrees) if lean else 0.0


@dataclass(frozen=True, slots=True)
class ZoneRow:
    """A place to keep clear, and where it is."""

    zone: Zone
    place: str

    @property
    def size_ticks(self) -> tuple[int, int] | None:
        """How large it is, as read or as usual; nothing while neither is known."""
        return adapter.zone_size(self.zone)

    @property
    def is_read(self) -> bool:
        """Whether both its sizes were read, not taken as usual."""
        return bool(self.zone.width_ticks and self.zone.height_ticks)

    @property
    def margin_ticks(self) -> int:
        """How much stays clear round it, as read or as usual."""
        return adapter.margin_of(self.zone)

    @property
    def change_label(self) -> str:
        """What the button says that changes it."""
        return f"Change {self.zone}, {self.place}"

    @property
    def remove_label(self) -> str:
        """What the button says that takes it out."""
        return f"Take out {self.zone}, {self.place}"


@dataclass(frozen=True, slots=True)
class BeamRow:
    """A beam or soffit as a list shows it."""

    beam: Beam

    @property
    def change_label(self) -> str:
        """What the button says that changes it."""
        return f"Change {self.beam}"

    @property
    def remove_label(self) -> str:
        """What the button says that takes it out."""
        return f"Take out {self.beam}"


@dataclass(frozen=True, slots=True)
class Plan:
    """The plan as pages show it."""

    svg: SafeString
    scale: str
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SurveySheet:
    """One survey with all that follows from it."""

    survey: Survey
    facts: SurveyFacts
    walls: tuple[WallRow, ...]
    openings: tuple[OpeningRow, ...]
    zones: tuple[ZoneRow, ...]
    members: tuple[MemberRow, ...]
    beams: tuple[BeamRow, ...]
    plan: Plan | None
    elevations: tuple[Plan, ...]
    told: tuple[str, ...]
    missing: tuple[str, ...]
    inside: Inside

    @property
    def unread(self) -> tuple[str, ...]:
        """What the plan waits for; empty when it is drawn."""
        if self.plan is not None:
            return ()
        return tuple(unread_walls(tuple(row.wall for row in self.walls)))

    @property
    def closing_ticks(self) -> int:
        """How far the walls are from closing, rounded to a tick."""
        outline = self.facts.outline
        return round(outline.closing_ticks) if outline else 0

    @property
    def closing_percent(self) -> float:
        """The closing error in per cent of the perimeter."""
        outline = self.facts.outline
        return outline.closing_share * 100 if outline else 0.0

    @property
    def closed_by(self) -> str:
        """How the plan was closed; empty when nothing had to give."""
        adjusted = self.facts.adjusted
        if adjusted is None or not adjusted.is_changed:
            return ""
        return CLOSED_BY[adjusted.method]

    @property
    def open_plan(self) -> bool:
        """Whether a slip keeps the plan from being closed."""
        return self.facts.outline is not None and self.facts.adjusted is None


def survey_sheet(survey: Survey) -> SurveySheet:
    """Return all that a survey's page shows.

    No query for a survey that came `with_inside()` and its room.
    """
    walls = tuple(survey.walls.all())
    room, conventions = adapter.room_in(survey), current()
    findings = engine.contradictions(room) if room else on_walls(survey)
    within = inside(survey)
    return SurveySheet(
        survey=survey,
        facts=survey_facts(survey),
        walls=wall_rows(walls, room),
        openings=tuple(_opening_rows(walls)),
        zones=tuple(_zone_rows(survey, walls)),
        members=tuple(member_rows(survey, walls)),
        beams=tuple(BeamRow(beam) for beam in survey.beams.all()),
        plan=_plan(survey, room),
        elevations=tuple(_elevations(survey, room)),
        told=engine.sentences(findings, lambda ticks: adapter.shown(ticks, conventions))
        + within.told,
        missing=tuple(missing(survey, walls)),
        inside=within,
    )


def on_walls(survey: Survey) -> tuple[engine.Finding, ...]:
    """Return what contradicts itself while the room as a whole is not read yet."""
    return engine.contradictions_on(
        tuple(adapter.walls_in(survey)),
        height_ticks=survey.height_ticks,
        ceiling=engine.Ceiling(survey.ceiling_shape),
    )


def _opening_rows(walls: tuple[Wall, ...]) -> Iterator[OpeningRow]:
    for wall in walls:
        for opening in wall.openings.all():
            label = adapter.label_of(opening, wall)
            yield OpeningRow(opening, wall, opening_facts(opening, wall), label)


def _zone_rows(survey: Survey, walls: tuple[Wall, ...]) -> Iterator[ZoneRow]:
    names = {wall.pk: f"wall {wall.name}" for wall in walls}
    for zone in survey.zones.all():
        yield ZoneRow(zone, names[zone.wall_id] if zone.wall_id else "ceiling")


def _plan(survey: Survey, room: engine.RoomIn | None) -> Plan | None:
    paper = adapter.paper_for(survey, current())
    spots = spots_in(survey)
    return _shown(engine.draw_plan(room, paper, spots)) if room else None


def _elevations(survey: Survey, room: engine.RoomIn | None) -> Iterator[Plan]:
    """Draw each wall from inside; none while the ceiling's height is missing."""
    paper = adapter.paper_for(survey, current())
    for place in range(len(room.walls) if room else 0):
        drawn = engine.draw_elevation(room, place, paper) if room else None
        if drawn is not None:
            yield _shown(drawn)


def _shown(drawn: engine.RoomPlan) -> Plan:
    # The drawing escapes every word that a person typed.
    return Plan(mark_safe(drawn.svg), drawn.scale, drawn.words)  # noqa: S308


@dataclass(frozen=True, slots=True)
class Step:
    """What to do next, and where."""

    text: str
    url: str = ""
    action: str = ""


@dataclass(frozen=True, slots=True)
class RoomPage:
    """All that a room's page shows."""

    room: Room
    surveys: tuple[Survey, ...]
    sheet: SurveySheet | None
    cautions: tuple[Caution, ...]
    log: tuple[LogLine, ...]
    step: Step = field(default=Step(""))

    @property
    def getting_in(self) -> str:
        """All that is known of getting into its site."""
        return getting_in(self.room.site)


def room_page(room: Room) -> RoomPage:
    """Return all that a room's page shows, of a room `with_site()`. Twelve queries."""
    surveys = tuple(
        room.surveys.newest_first().with_inside().select_related("measured_by")
    )
    for survey in surveys:
        survey.room = room
    sheet = survey_sheet(surveys[0]) if surveys else None
    return RoomPage(
        room=room,
        surveys=surveys,
        sheet=sheet,
        cautions=cautions_in(room, surveys[0] if surveys else None),
        log=log_of(room),
        step=_step(room, sheet),
    )


def _step(room: Room, sheet: SurveySheet | None) -> Step:
    if sheet is None:
        return Step(
            "Nobody has measured this room yet.",
            reverse("shop:survey-new", args=(room.pk,)),
            "Measure it",
        )
    if sheet.missing:
        return Step(
            f"Still missing: {sheet.missing[0][:1].lower()}{sheet.missing[0][1:]}",
            sheet.survey.get_absolute_url(),
            "Carry on measuring",
        )
    if sheet.told:
        return Step(
            f"Look again: {sheet.told[0]}",
            sheet.survey.get_absolute_url(),
            "Read again",
        )
    # What follows, its panels, the app above says in a part of its own.
    return Step("")


@dataclass(frozen=True, slots=True)
class SurveyPage:
    """A survey, whether it may still be changed, and how it differs from an earlier one."""

    sheet: SurveySheet
    others: tuple[Survey, ...]
    later: Survey | None
    against: Survey | None
    differences: tuple[Difference, ...]
    pictured: tuple[Pictured, ...]
    needed: tuple[str, ...]
    cautions: tuple[Caution, ...]


def survey_page(survey: Survey, *, against_revision: int | None) -> SurveyPage:
    """Return all that a survey's page shows, of one `with_inside()`, `with_room()`.

    It is compared with the revision asked for, or with the one before. Thirteen queries at
    most.
    """
    rest = tuple(s for s in survey.room.surveys.newest_first() if s.pk != survey.pk)
    before = next((s for s in rest if s.revision < survey.revision), None)
    chosen = next((s for s in rest if s.revision == against_revision), before)
    against = Survey.objects.with_inside().get(pk=chosen.pk) if chosen else None
    photos = pictured(survey)
    return SurveyPage(
        sheet=survey_sheet(survey),
        others=tuple(s for s in rest if s != chosen),
        later=next((s for s in rest if s.revision > survey.revision), None),
        against=against,
        differences=differences(against, survey) if against else (),
        pictured=photos,
        needed=tuple(needed(survey, has_photo=bool(photos))),
        cautions=cautions_in(survey.room, survey),
    )


def client_rooms(request: HttpRequest, client: Client) -> Section:
    """Return the section of a client's page that lists the rooms. One query."""
    rooms = Room.objects.of_client(client).live().with_latest_survey()
    return Section(
        "shop/surveys/_client_rooms.html",
        {
            "rooms": list(rooms.select_related("site")),
            "client": client,
            "may_survey": may(request.user, Right.SURVEY),
        },
    )
