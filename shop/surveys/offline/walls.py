"""Writes to the walls of a survey."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Any

from shared.offline import Refused
from shop.surveys import actions
from shop.surveys.adapter import free_name
from shop.surveys.forms import WallForm
from shop.surveys.models import Wall
from shop.surveys.offline.parts import NewPart
from shop.surveys.offline.records import Record, removed
from shop.surveys.reports.walk.walls import HALF, QUARTERS, WALL


def _store(wall: Wall, by: Any, at: dt.datetime) -> None:
    actions.change_wall(wall, by=by, at=at)


def _angle(wall: Wall, typed: str, by: Any, at: dt.datetime) -> None:
    """Keep an angle apart from how the corner is known: each is a field by itself."""
    inside: Decimal | None = WallForm.base_fields["inside_angle"].clean(typed)
    turn = QUARTERS[0] if inside is None else round((HALF - inside) * 1000)
    if inside is not None and turn in QUARTERS:
        raise Refused("That is a square corner: choose it as one.")
    wall.turn_millidegrees = turn
    _store(wall, by, at)


RECORD = Record(
    WALL,
    Wall.objects.with_survey,
    WallForm,
    _store,
    writers={"angle": _angle, "removed": removed},
    old_names={"wall-length": "length"},
)


def _after(wall: Wall) -> Wall:
    """Return a new wall that follows another one, most likely of the same make."""
    name = free_name(wall.survey)
    return Wall(
        survey=wall.survey,
        name=name,
        position=wall.position + 1,
        construction=wall.construction,
    )


def _add(wall: Wall, after: Wall, by: Any, at: dt.datetime) -> None:
    actions.add_wall(wall, after=after, by=by, at=at)


def register_ops() -> None:
    """Name the writes."""
    RECORD.register()
    NewPart(RECORD, {"wall": _after}, store=_add).register()
