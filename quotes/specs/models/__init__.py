"""Build specs, which are data, and the panels planned from them."""

from quotes.specs.models.choices import (
    BackStyle,
    BraceEdge,
    BraceLies,
    BracePlace,
    BraceRun,
    Face,
    Fastening,
    Hanging,
    Joint,
    PanelKind,
    Through,
)
from quotes.specs.models.parts import Brace, SpecItem, SpecOperation
from quotes.specs.models.planned import PlannedPanel
from quotes.specs.models.spec import BuildSpec

__all__ = [
    "BackStyle",
    "Brace",
    "BraceEdge",
    "BraceLies",
    "BracePlace",
    "BraceRun",
    "BuildSpec",
    "Face",
    "Fastening",
    "Hanging",
    "Joint",
    "PanelKind",
    "PlannedPanel",
    "SpecItem",
    "SpecOperation",
    "Through",
]
