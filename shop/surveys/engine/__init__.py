"""A room's geometry: outline, openings, contradictions, cautions and plan (pure)."""

from shop.surveys.engine.cautions import Known, cautions
from shop.surveys.engine.checks import Finding, contradictions, sentences
from shop.surveys.engine.drawing import Paper, RoomPlan, can_draw, draw_plan
from shop.surveys.engine.errors import SurveyError
from shop.surveys.engine.opening import (
    CLEARANCE_TICKS,
    Fit,
    Lean,
    Readings,
    Shape,
    fit_in,
    ideal_diagonal_ticks,
    shape_of,
)
from shop.surveys.engine.outline import (
    Outline,
    WallLine,
    outline,
    rectangle,
    volume_m3,
)
from shop.surveys.engine.room import OpeningIn, RoomIn, WallIn, ZoneIn

__all__ = [
    "CLEARANCE_TICKS",
    "Finding",
    "Fit",
    "Known",
    "Lean",
    "OpeningIn",
    "Outline",
    "Paper",
    "Readings",
    "RoomIn",
    "RoomPlan",
    "Shape",
    "SurveyError",
    "WallIn",
    "WallLine",
    "ZoneIn",
    "can_draw",
    "cautions",
    "contradictions",
    "draw_plan",
    "fit_in",
    "ideal_diagonal_ticks",
    "outline",
    "rectangle",
    "sentences",
    "shape_of",
    "volume_m3",
]
