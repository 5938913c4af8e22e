"""What to read before leaving a room, and what to show the client before going."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from shared.conventions import current
from shop.clients.adapter import ballpark_for_floor
from shop.people.models import ShopProfile
from shop.surveys import adapter, engine
from shop.surveys.models import Survey
from shop.surveys.reports.before import missing
from shop.surveys.reports.pages import SurveySheet, on_walls, survey_sheet


@dataclass(frozen=True, slots=True)
class LeavePage:
    """What contradicts, what is missing; plan and ballpark where they are asked for."""

    told: tuple[str, ...]
    missing: tuple[str, ...]
    sheet: SurveySheet | None = None
    ballpark: str = ""
    ballpark_how: str = ""


def leave_brief(survey: Survey) -> LeavePage:
    """Return the sentences alone, of a survey that came `with_parts()`. No query."""
    conventions, room = current(), adapter.room_in(survey)
    findings = engine.contradictions(room) if room else on_walls(survey)
    said = engine.sentences(findings, lambda ticks: adapter.shown(ticks, conventions))
    return LeavePage(said, tuple(missing(survey, list(survey.walls.all()))))


def leave_page(survey: Survey, shop: ShopProfile | None) -> LeavePage:
    """Return all of it; the ballpark only where a shop's rates may be shown."""
    sheet = survey_sheet(survey)
    area = sheet.facts.area_m2
    found = ("", "")
    if shop is not None and area is not None:
        found = ballpark_for_floor(Decimal(str(round(area, 2))), shop) or found
    return LeavePage(sheet.told, sheet.missing, sheet, *found)
