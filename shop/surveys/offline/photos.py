"""Photos from a device that is away."""

from __future__ import annotations

import datetime as dt
import uuid
from typing import Any

from shared.access import Right
from shared.files.actions import attach
from shared.offline import Op, register
from shop.surveys.models import Room
from shop.surveys.offline.records import one
from shop.surveys.reports.walk.photos import ROOM_PHOTO


def _add_photo(by: Any, pk: uuid.UUID, _: str, value: str, at: dt.datetime) -> None:
    room: Room = one(Room.objects.all(), pk)
    attach(room, uuid.UUID(value), by=by, at=at)


def register_ops() -> None:
    """Name the writes of photos."""
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
