"""Drawings to scale: pure, in millimetres on paper, given out as SVG for page and PDF."""

from shared.drawing.callout import Callout, callouts, name_inside, scale_bar, title
from shared.drawing.dimension import Side, chain, dimension
from shared.drawing.geometry import Box, Point
from shared.drawing.scale import (
    IMPERIAL_SCALES,
    METRIC_SCALES,
    BrokenAxis,
    Scale,
    Window,
    largest_scale,
    windows_around,
)
from shared.drawing.sheet import Drawing
from shared.drawing.text import Label, text_width_mm
from shared.drawing.view import Spot, View

__all__ = [
    "IMPERIAL_SCALES",
    "METRIC_SCALES",
    "Box",
    "BrokenAxis",
    "Callout",
    "Drawing",
    "Label",
    "Point",
    "Scale",
    "Side",
    "Spot",
    "View",
    "Window",
    "callouts",
    "chain",
    "dimension",
    "largest_scale",
    "name_inside",
    "scale_bar",
    "text_width_mm",
    "title",
    "windows_around",
]
