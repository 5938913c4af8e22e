"""What to read before leaving a room, and what to show the client before going."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from shared.conventions import current
from shop.clients.adapter import ballpark_for_floor
from shop.clients.engine import Caution
from shop.people.models import ShopProfile
from shop.surveys import adapter, engine
from shop.surveys.models import Survey
from shop.surveys.reports.before import missing, needed
from shop.surveys.reports.facts import cautions_in
from shop.surveys.reports.inside import inside
from shop.surveys.reports.pages import SurveySheet, on_walls, survey_sheet
from shop.surveys.reports.photos import photos_of


@dataclass(frozen=True, slots=True)
class LeavePage:
    """What contradicts, is missing, a later step asks for; sketch and ballpark if asked."""

    told: tuple[str, ...]
    missing: tuple[str, ...]
    later: tuple[str, ...]
    cautions: tuple[Caution, ...]
    sheet: SurveySheet | None = None
    ballpark: str = ""
    ballpark_how: str = ""


def leave_brief(survey: Survey) -> LeavePage:
    """Return the sentences alone, of a survey `with_inside()`, `with_room()`.

    Three queries.
    """
    return leave_told(survey, has_photo=bool(photos_of(survey)))


def leave_told(survey: Survey, *, has_photo: bool) -> LeavePage:
    """Return the sentences alone. No query.

    The device says the same with no network (kernel/leave.js), held to
    tests/vectors/leave.json.
    """
    conventions, room = current(), adapter.room_in(survey)
    findings = engine.contradictions(room) if room else on_walls(survey)
    within = inside(survey)
    said = engine.sentences(findings, lambda ticks: adapter.shown(ticks, conventions))
    return LeavePage(
        told=said + within.told,
        missing=tuple(missing(survey, list(survey.walls.all()))),
        later=(*needed(survey, has_photo=has_photo), *within.later),
        cautions=cautions_in(survey.room, survey),
    )


def leave_page(survey: Survey, shop: ShopProfile | None) -> LeavePage:
    """Return all of it; the ballpark only where a shop's rates may be shown. Three queries."""
    sheet = survey_sheet(survey)
    area = sheet.facts.area_m2
    found = ("", "")
    if shop is not None and area is not None:
        found = ballpark_for_floor(Decimal(str(round(area, 2))), shop) or found
    return LeavePage(
        sheet.told,
        sheet.missing,
        (*needed(survey, has_photo=bool(photos_of(survey))), *sheet.inside.later),
        cautions_in(survey.room, survey),
        sheet,
        *found,
    )
