"""Rooms and what was measured in them, by noun."""

from shop.surveys.models.beams import Beam, BeamKind, BeamQuerySet
from shop.surveys.models.inside import (
    Covering,
    CoveringQuerySet,
    Furniture,
    FurnitureKind,
    Spot,
    SpotKind,
    SpotQuerySet,
    Surface,
)
from shop.surveys.models.members import Member, MemberQuerySet
from shop.surveys.models.rooms import Room, RoomQuerySet
from shop.surveys.models.surveys import (
    MASONRY,
    CeilingShape,
    Construction,
    FramingRun,
    Made,
    Survey,
    SurveyQuerySet,
)
from shop.surveys.models.walls import (
    Axis,
    CornerKind,
    Facing,
    Glass,
    Opening,
    OpeningKind,
    OpeningQuerySet,
    Reading,
    Wall,
    WallQuerySet,
)
from shop.surveys.models.zones import Zone, ZoneKind, ZoneQuerySet, ZoneRule

__all__ = [
    "MASONRY",
    "Axis",
    "Beam",
    "BeamKind",
    "BeamQuerySet",
    "CeilingShape",
    "Construction",
    "CornerKind",
    "Covering",
    "CoveringQuerySet",
    "Facing",
    "FramingRun",
    "Furniture",
    "FurnitureKind",
    "Glass",
    "Made",
    "Member",
    "MemberQuerySet",
    "Opening",
    "OpeningKind",
    "OpeningQuerySet",
    "Reading",
    "Room",
    "RoomQuerySet",
    "Spot",
    "SpotKind",
    "SpotQuerySet",
    "Surface",
    "Survey",
    "SurveyQuerySet",
    "Wall",
    "WallQuerySet",
    "Zone",
    "ZoneKind",
    "ZoneQuerySet",
    "ZoneRule",
]
