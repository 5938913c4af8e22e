"""Line weights and fills: told apart by weight, dash and hatch, never by colour alone."""

from __future__ import annotations

from dataclasses import dataclass

from shared.drawing.markup import Attributes

INK = "#1f2328"
SOFT_INK = "#5a6068"
PAPER = "#ffffff"
WOOD_TINT = "#efe4d0"
EDGE_TINT = "#e2d2b4"
WOOL_TINT = "#f6f1e4"
CLOTH_TINT = "#e4e8ec"
METAL_TINT = "#c9ced4"
WALL_TINT = "#dddddd"


@dataclass(frozen=True, slots=True)
class Pen:
    """How a shape is drawn; widths and dashes are in millimetres on paper.

    ``width_mm`` 0 draws no line.
    """

    width_mm: float = 0.25
    stroke: str = INK
    fill: str = "none"
    dash_mm: tuple[float, ...] = ()

    def attributes(self) -> Attributes:
        """Return the presentation attributes."""
        found: Attributes = {"fill": self.fill}
        if self.width_mm:
            found["stroke"] = self.stroke
            found["stroke-width"] = self.width_mm
            found["stroke-linejoin"] = "round"
        else:
            found["stroke"] = "none"
        if self.dash_mm:
            found["stroke-dasharray"] = " ".join(f"{d:g}" for d in self.dash_mm)
        return found

    def filled(self, fill: str) -> Pen:
        """Return the same line with another fill."""
        return Pen(self.width_mm, self.stroke, fill, self.dash_mm)


# Weights in the usual 1 : 0.5 ratio of ISO 128 (from memory: wide for what is cut, narrow
# for the rest).
CUT = Pen(0.5)
OUTLINE = Pen(0.35)
FINE = Pen(0.18)
HIDDEN = Pen(0.25, SOFT_INK, dash_mm=(1.6, 0.9))
CENTRE = Pen(0.18, SOFT_INK, dash_mm=(4, 1, 0.8, 1))
DIMENSION = Pen(0.18, SOFT_INK)
HATCH = Pen(0.15, SOFT_INK)
CLOTH = Pen(0.7, INK)
SOLID = Pen(0, fill=INK)
BLANK = Pen(0, fill=PAPER)
