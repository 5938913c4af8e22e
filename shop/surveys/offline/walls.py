"""Writes to the walls of a survey."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Any

from shared.offline import Refused
from shop.surveys import actions
from shop.surveys.forms import WallForm
from shop.surveys.models import Wall
from shop.surveys.offline.records import Record, tick
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


def removed(part: Any, typed: str, by: Any, at: dt.datetime) -> None:
    """Take a part out, or put it back; what is so already stays."""
    out = tick(typed)
    if out == (part.removed_at is not None):
        return
    change = actions.take_out if out else actions.put_back
    change(part, by=by, at=at)


RECORD = Record(
    WALL,
    Wall.objects.with_survey,
    WallForm,
    _store,
    writers={"angle": _angle, "removed": removed},
    old_names={"wall-length": "length"},
)


def register_ops() -> None:
    """Name the writes."""
    RECORD.register()
