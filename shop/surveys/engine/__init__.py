"""A room's geometry: outline, openings, contradictions, cautions and plan (pure)."""

from shop.surveys.engine.adjust import (
    Adjusted,
    Method,
    adjust,
    compass_rule,
    crossing,
    suspects,
    turn_by_diagonal,
)
from shop.surveys.engine.cautions import Known, cautions
from shop.surveys.engine.ceiling import (
    Beam,
    Ceiling,
    slope_heights,
    triangles,
    volume_under,
)
from shop.surveys.engine.checks import contradictions, contradictions_on
from shop.surveys.engine.drawing import draw_plan, draw_sketch
from shop.surveys.engine.elevation import draw_elevation
from shop.surveys.engine.errors import SurveyError
from shop.surveys.engine.findings import Finding, sentences
from shop.surveys.engine.framing import Framing
from shop.surveys.engine.grid import draw_grid
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
    QUARTER,
    Corner,
    Outline,
    WallLine,
    area_ticks2,
    outline,
    rectangle,
    volume_m3,
)
from shop.surveys.engine.paper import Paper, RoomPlan
from shop.surveys.engine.room import OpeningIn, RoomIn, WallIn, ZoneIn
from shop.surveys.engine.shapes import SHAPES, RoomShape
from shop.surveys.engine.told import (
    OPENING_WORDS,
    PLAN_WORDS,
    WallRead,
    opening_told,
    plan_told,
)
from shop.surveys.engine.zones import USUAL, Usual, usual_of

__all__ = [
    "CLEARANCE_TICKS",
    "OPENING_WORDS",
    "PLAN_WORDS",
    "QUARTER",
    "SHAPES",
    "USUAL",
    "Adjusted",
    "Beam",
    "Ceiling",
    "Corner",
    "Finding",
    "Fit",
    "Framing",
    "Known",
    "Lean",
    "Method",
    "OpeningIn",
    "Outline",
    "Paper",
    "Readings",
    "RoomIn",
    "RoomPlan",
    "RoomShape",
    "Shape",
    "SurveyError",
    "Usual",
    "WallIn",
    "WallLine",
    "WallRead",
    "ZoneIn",
    "adjust",
    "area_ticks2",
    "cautions",
    "compass_rule",
    "contradictions",
    "contradictions_on",
    "crossing",
    "draw_elevation",
    "draw_grid",
    "draw_plan",
    "draw_sketch",
    "fit_in",
    "ideal_diagonal_ticks",
    "opening_told",
    "outline",
    "plan_told",
    "rectangle",
    "sentences",
    "shape_of",
    "slope_heights",
    "suspects",
    "triangles",
    "turn_by_diagonal",
    "usual_of",
    "volume_m3",
    "volume_under",
]
