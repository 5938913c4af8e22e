"""Photos from a device that is away: of a room, of a wall, of an opening."""

from __future__ import annotations

import datetime as dt
import uuid
from functools import partial
from typing import Any

from django.db import models
from django.forms import BaseForm

from shared.access import Right
from shared.files.actions import attach, set_removed
from shared.files.models import Attachment
from shared.offline import Op, Refused, register
from shop.surveys.offline.records import Record, one, tick
from shop.surveys.reports.photos import ROWS
from shop.surveys.reports.walk.photos import PHOTO

MOST_PHOTOS = 40
"""Of one room, wall or opening: more than anybody looks through."""


def _add_photo(
    kind: str, by: Any, pk: uuid.UUID, _: str, value: str, at: dt.datetime
) -> None:
    place = one(ROWS[kind](), pk)
    if Attachment.objects.of(kind, pk).standing().count() >= MOST_PHOTOS:
        raise Refused(
            f"There are {MOST_PHOTOS} photos of this {kind} already, which is the most."
            " Take one out first."
        )
    attach(place, uuid.UUID(value), by=by, at=at)


def _taken() -> models.QuerySet[Attachment]:
    return Attachment.objects.of_kinds(ROWS)


def _removed(photo: Attachment, typed: str, by: Any, at: dt.datetime) -> None:
    out = tick(typed)
    if out != (photo.removed_at is not None):
        place = one(ROWS[photo.kind](), photo.record_id)
        set_removed(photo, place, removed=out, by=by, at=at)


def _unused(*_: Any) -> None:
    """Store nothing: a photo has no column that is typed."""


PHOTOS = Record(PHOTO, _taken, BaseForm, _unused, {"removed": _removed})


def register_ops() -> None:
    """Name the writes of photos."""
    PHOTOS.register()
    for kind in ROWS:
        register(
            Op(
                f"{kind}-photo",
                kind,
                frozenset({"photo"}),
                Right.SURVEY,
                write=partial(_add_photo, kind),
                read=lambda *_: "",
                takes_picture=True,
            )
        )
