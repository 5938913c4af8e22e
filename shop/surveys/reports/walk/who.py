"""Who and where on the walk: client, site, room; and the survey with its ceiling."""

from __future__ import annotations

from typing import Any

from shop.clients.models import Use
from shop.surveys.models import CeilingShape, FramingRun
from shop.surveys.reports.walk.fields import Field, Kind
from shop.surveys.reports.walk.inside import IN_ROOM
from shop.surveys.reports.walk.walls import made_of

USES = tuple((str(value), str(label)) for value, label in Use.choices)
SHAPES = tuple((str(value), str(label)) for value, label in CeilingShape.choices)


def _detail(name: str) -> Any:
    return lambda client: str(getattr(client.details, name))


CLIENT = Kind(
    "client",
    (
        Field("name", "Client’s name", "line", read=_detail("name"), alone=True),
        Field("phone", "Phone", "phone", read=_detail("phone"), most=40),
    ),
)

ROOM = Kind(
    "room",
    (
        Field("name", "Name of the room", "line", most=80, alone=True),
        Field("use", "What the room is for", "choice", choices=USES, alone=True),
        Field("storey", "Storey", "line", most=40),
        Field(
            "sleeping",
            "A bedroom or a basement room",
            "tick",
            "sleeping_or_basement",
            alone=True,
        ),
        Field("notes", "Notes on the room", "area", most=4000, alone=True),
    ),
)

SURVEY = Kind(
    "survey",
    (
        Field("height", "Ceiling height", needed=True, alone=True),
        Field("shape", "Shape", "choice", "ceiling_shape", choices=SHAPES),
        *made_of((FramingRun.UNKNOWN, FramingRun.ALONG, FramingRun.ACROSS)),
        Field("notes", "Notes on the survey", "area", most=4000, alone=True),
        *IN_ROOM,
    ),
)
