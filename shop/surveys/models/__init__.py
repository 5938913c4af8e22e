"""Rooms and what was measured in them, by noun."""

from shop.surveys.models.rooms import Room, RoomQuerySet
from shop.surveys.models.surveys import (
    MASONRY,
    Construction,
    Made,
    Survey,
    SurveyQuerySet,
)
from shop.surveys.models.walls import (
    Axis,
    Opening,
    OpeningKind,
    OpeningQuerySet,
    Reading,
    Wall,
)
from shop.surveys.models.zones import Zone, ZoneKind, ZoneQuerySet

__all__ = [
    "MASONRY",
    "Axis",
    "Construction",
    "Made",
    "Opening",
    "OpeningKind",
    "OpeningQuerySet",
    "Reading",
    "Room",
    "RoomQuerySet",
    "Survey",
    "SurveyQuerySet",
    "Wall",
    "Zone",
    "ZoneKind",
    "ZoneQuerySet",
]
