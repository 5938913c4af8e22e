"""The fields of a survey that save themselves, in the order of a walk round the room."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from shared.conventions import current
from shared.files.models import Attachment
from shared.offline.reports import OfflineField, versions
from shop.surveys.models import Survey, Wall

SURVEY_TEXT = "survey-text"
ROOM_TEXT = "room-text"
WALL_LENGTH = "wall-length"
ROOM_PHOTO = "room-photo"


@dataclass(frozen=True, slots=True)
class WalkPage:
    """What is typed on the walk."""

    walls: tuple[OfflineField, ...]
    notes: tuple[OfflineField, ...]
    photos: tuple[Attachment, ...]
    photo_op: str = ROOM_PHOTO


def walk_page(survey: Survey) -> WalkPage:
    """Gather the fields of a survey with the version of each. Five queries."""
    return WalkPage(
        _versioned("wall", [_length(wall) for wall in survey.walls.standing()]),
        _versioned("survey", [_notes(SURVEY_TEXT, "survey", survey)])
        + _versioned("room", [_notes(ROOM_TEXT, "room", survey.room)]),
        tuple(Attachment.objects.of("room", survey.room_id).standing()),
    )


def _versioned(kind: str, fields: list[OfflineField]) -> tuple[OfflineField, ...]:
    at = versions(kind, [field.record_id for field in fields])
    return tuple(
        replace(field, version=at.get((field.record_id, field.name), 0))
        for field in fields
    )


def _length(wall: Wall) -> OfflineField:
    conventions = current()
    return OfflineField(
        WALL_LENGTH,
        "wall",
        wall.pk,
        "length",
        f"Length of wall {wall.name}",
        wall.length_text,
        look="length",
        units=str(conventions.unit_system),
        fraction=conventions.fraction,
    )


def _notes(op: str, kind: str, record: Any) -> OfflineField:
    label = f"Notes on the {kind}"
    return OfflineField(op, kind, record.pk, "notes", label, record.notes, look="area")
