"""Drawings of a panel from its takeoff (pure): front, back, section, and a small one."""

from quotes.specs.engine.drawing.compose import compose as panel_drawing
from quotes.specs.engine.drawing.paper import Panel, Paper
from quotes.specs.engine.drawing.thumbnail import thumbnail as panel_thumbnail

__all__ = ["Panel", "Paper", "panel_drawing", "panel_thumbnail"]
