"""Rooms and what was measured in them, by noun."""

from shop.surveys.models.beams import Beam, BeamKind, BeamQuerySet
from shop.surveys.models.rooms import Room, RoomQuerySet
from shop.surveys.models.surveys import (
    MASONRY,
    CeilingShape,
    Construction,
    Made,
    Survey,
    SurveyQuerySet,
)
from shop.surveys.models.walls import (
    Axis,
    CornerKind,
    Opening,
    OpeningKind,
    OpeningQuerySet,
    Reading,
    Wall,
    WallQuerySet,
)
from shop.surveys.models.zones import Zone, ZoneKind, ZoneQuerySet

__all__ = [
    "MASONRY",
    "Axis",
    "Beam",
    "BeamKind",
    "BeamQuerySet",
    "CeilingShape",
    "Construction",
    "CornerKind",
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
    "WallQuerySet",
    "Zone",
    "ZoneKind",
    "ZoneQuerySet",
]
