"""Writes to openings and their readings."""

from __future__ import annotations

import datetime as dt
from typing import Any

from shared.forms import LengthFormField, TypedLength
from shop.surveys import actions
from shop.surveys.actions.fields import store_reading
from shop.surveys.forms import OpeningForm
from shop.surveys.forms.parts import reading_fields
from shop.surveys.models import Opening, Wall
from shop.surveys.offline.parts import NewPart
from shop.surveys.offline.records import Record, Writer, removed
from shop.surveys.reports.walk.openings import OPENING, READINGS, reading_of


def _store(opening: Opening, by: Any, at: dt.datetime) -> None:
    actions.store_part(opening, opening.wall.survey, by=by, at=at)


def _reading(name: str, field: LengthFormField) -> Writer:
    """Return what writes one reading, cleaned by the form's field of that name."""
    axis, place = reading_of(name)
    field.required = False

    def write(opening: Opening, typed: str, by: Any, at: dt.datetime) -> None:
        ticks = field.clean(typed)
        read = None if ticks is None else TypedLength(ticks, typed.strip())
        store_reading(opening, axis, place, read=read, by=by, at=at)

    return write


_FIELDS = dict(reading_fields())

RECORD = Record(
    OPENING,
    Opening.objects.with_survey,
    OpeningForm,
    _store,
    writers={
        "removed": removed,
        **{one.name: _reading(one.name, _FIELDS[one.name]) for one in READINGS},
    },
)


def _make(wall: Wall) -> Opening:
    return Opening(wall=wall)


def register_ops() -> None:
    """Name the writes."""
    RECORD.register()
    NewPart(RECORD, {"wall": _make}).register()
