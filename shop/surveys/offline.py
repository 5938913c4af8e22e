"""What of a room may be written from a device that is away, each field by itself."""

from __future__ import annotations

import datetime as dt
import uuid
from typing import Any

from shared.access import Right
from shared.files.actions import attach
from shared.forms import LengthFormField, PlainCharField
from shared.offline import Op, Refused, register
from shop.surveys import actions
from shop.surveys.forms.surveys import LONGEST_TICKS
from shop.surveys.models import Room, Survey, Wall
from shop.surveys.reports.walk import ROOM_PHOTO, ROOM_TEXT, SURVEY_TEXT, WALL_LENGTH

_NOTES = PlainCharField(max_length=4000, multiline=True, required=False)
_LENGTH = LengthFormField(max_ticks=LONGEST_TICKS)


def _one(rows: Any, pk: uuid.UUID) -> Any:
    """Fetch a row and hold it: two devices may write two of its fields at once."""
    found = rows.select_for_update(of=("self",)).filter(pk=pk).first()
    if found is None:
        raise Refused("This is no longer there.")
    return found


def _read(rows: Any, pk: uuid.UUID, column: str) -> str:
    value: str | None = rows.filter(pk=pk).values_list(column, flat=True).first()
    if value is None:
        raise Refused("This is no longer there.")
    return value


def _write_survey(by: Any, pk: uuid.UUID, _: str, value: str, at: dt.datetime) -> None:
    survey: Survey = _one(Survey.objects.select_related("room"), pk)
    survey.notes = _NOTES.clean(value)
    actions.change_survey(survey, use=survey.room.use, by=by, at=at)


def _write_room(by: Any, pk: uuid.UUID, _: str, value: str, at: dt.datetime) -> None:
    room: Room = _one(Room.objects.all(), pk)
    room.notes = _NOTES.clean(value)
    actions.change_room(room, by=by, at=at)


def _write_wall(by: Any, pk: uuid.UUID, _: str, value: str, at: dt.datetime) -> None:
    wall: Wall = _one(Wall.objects.select_related("survey__room"), pk)
    wall.length_ticks = _LENGTH.clean(value)
    wall.length_text = value.strip()
    actions.change_wall(wall, by=by, at=at)


def _add_photo(by: Any, pk: uuid.UUID, _: str, value: str, at: dt.datetime) -> None:
    room: Room = _one(Room.objects.all(), pk)
    attach(room, uuid.UUID(value), by=by, at=at)


def register_ops() -> None:
    """Name the writes that rooms take."""
    notes, length = frozenset({"notes"}), frozenset({"length"})
    register(
        Op(
            SURVEY_TEXT,
            "survey",
            notes,
            Right.SURVEY,
            write=_write_survey,
            read=lambda pk, _: _read(Survey.objects.all(), pk, "notes"),
        )
    )
    register(
        Op(
            ROOM_TEXT,
            "room",
            notes,
            Right.SURVEY,
            write=_write_room,
            read=lambda pk, _: _read(Room.objects.all(), pk, "notes"),
        )
    )
    register(
        Op(
            WALL_LENGTH,
            "wall",
            length,
            Right.SURVEY,
            write=_write_wall,
            read=lambda pk, _: _read(Wall.objects.all(), pk, "length_text"),
        )
    )
    register(
        Op(
            ROOM_PHOTO,
            "room",
            frozenset({"photo"}),
            Right.SURVEY,
            write=_add_photo,
            read=lambda *_: "",
            takes_picture=True,
        )
    )
