"""Papers of a survey: the sheet with all that was read, and a blank one for a pencil.

Slow: never in a transaction.
"""

from __future__ import annotations

from shared.conventions import current
from shared.pdf import Letterhead, render_pdf
from shop.clients.reports import getting_in
from shop.people.models import ShopProfile
from shop.surveys import adapter
from shop.surveys.models import FurnitureKind, Room, Survey
from shop.surveys.reports.pages import survey_sheet

BLANK_WALLS = 8
BLANK_OPENINGS = 5
BLANK_ZONES = 10
BLANK_FINISHES = 6
BLANK_SPOTS = 5


def survey_sheet_pdf(survey: Survey, *, profile: ShopProfile) -> bytes:
    """Print a survey that came `with_inside()`, `with_room()`: drawings and readings."""
    context = {
        "survey": survey,
        "sheet": survey_sheet(survey),
        "getting_in": getting_in(survey.room.site),
        "letterhead": _letterhead(profile),
    }
    return render_pdf("shop/surveys/pdf/sheet.html", context)


def blank_sheet_pdf(room: Room, *, profile: ShopProfile) -> bytes:
    """Print a sheet for a room with nothing on it but lines to write on."""
    context = {
        "room": room,
        "grid": adapter.blank_grid(metric=current().is_metric),
        "walls": range(BLANK_WALLS),
        "openings": range(BLANK_OPENINGS),
        "zones": range(BLANK_ZONES),
        "finishes": range(BLANK_FINISHES),
        "furniture": FurnitureKind.labels,
        "spots": range(BLANK_SPOTS),
        "letterhead": _letterhead(profile),
    }
    return render_pdf("shop/surveys/pdf/blank.html", context)


def _letterhead(profile: ShopProfile) -> Letterhead:
    return Letterhead(profile.name, profile.strapline, invented=profile.invented)
