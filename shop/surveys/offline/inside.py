"""Writes to what is in a room: finishes, furniture, places."""

from __future__ import annotations

import datetime as dt
from typing import Any

from shared.offline import Refused
from shop.surveys import actions
from shop.surveys.actions.inside import count_furniture, finish_room
from shop.surveys.engine.presets import PRESETS
from shop.surveys.forms.inside import CoveringForm, SpotForm, count_field
from shop.surveys.models import (
    Covering,
    FurnitureKind,
    Opening,
    Spot,
    Surface,
    Survey,
    Wall,
)
from shop.surveys.offline.parts import Make, NewPart
from shop.surveys.offline.records import Record, Writer, removed
from shop.surveys.reports.walk.inside import COUNT, COVERING, SPOT

_REMOVED = {"removed": removed}


def _store(part: Covering | Spot, by: Any, at: dt.datetime) -> None:
    actions.store_part(part, part.survey, by=by, at=at)


def _in_room(survey: Survey) -> Covering:
    return Covering(survey=survey, surface=Surface.WALLS)


def _on_wall(wall: Wall) -> Covering:
    return Covering(survey=wall.survey, surface=Surface.WALL, wall=wall)


def _on_opening(opening: Opening) -> Covering:
    survey = opening.wall.survey
    return Covering(survey=survey, surface=Surface.OPENING, opening=opening)


def finish_like(survey: Survey, typed: str, by: Any, at: dt.datetime) -> None:
    """Finish a room like others of its kind; nothing chosen changes nothing."""
    if not typed:
        return
    if typed not in PRESETS:
        raise Refused("This version of the program does not know such a room.")
    finish_room(survey, PRESETS[typed], by=by, at=at)


def _count(kind: str) -> Writer:
    def write(survey: Survey, typed: str, by: Any, at: dt.datetime) -> None:
        count = count_field(kind).clean(typed) or 0
        count_furniture(survey, {kind: count}, by=by, at=at)

    return write


ROOM_WRITERS: dict[str, Writer] = {
    "preset": finish_like,
    **{f"{COUNT}{kind}": _count(kind) for kind in FurnitureKind.values},
}
"""What writes the fields of a survey that are about its room as a whole."""

COVERINGS = Record(
    COVERING, Covering.objects.with_survey, CoveringForm, _store, _REMOVED
)
SPOTS = Record(SPOT, Spot.objects.with_survey, SpotForm, _store, _REMOVED)


def register_ops() -> None:
    """Name the writes."""
    COVERINGS.register()
    makes: dict[str, Make] = {
        "survey": _in_room,
        "wall": _on_wall,
        "opening": _on_opening,
    }
    NewPart(COVERINGS, makes).register()
    SPOTS.register()
    NewPart(SPOTS, {"survey": lambda survey: Spot(survey=survey)}).register()
