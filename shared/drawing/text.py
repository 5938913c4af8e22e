"""Words on a drawing, with their real widths, so that collisions can be found."""

from __future__ import annotations

from dataclasses import dataclass

from shared.drawing import widths_regular, widths_semibold
from shared.drawing.geometry import Box, Point
from shared.drawing.markup import clean, element
from shared.drawing.pens import INK

# No space after the commas: WeasyPrint 70 takes it as part of the name, and only luck
# in the font matching drops it again.
FONT_FAMILY = "Atkinson Hyperlegible Next,Cleat Marks,sans-serif"
REGULAR_WEIGHT = 400
BOLD_WEIGHT = 600

SMALL_MM = 2.5
LABEL_MM = 2.9
TITLE_MM = 3.6

# Shares of the type size above and below the baseline that a line of text may ink
# (capitals reach 0.67, brackets and tails 0.20; measured on the vendored files).
_ABOVE = 0.76
_BELOW = 0.24


def _by_character(table: dict[int, str]) -> dict[str, int]:
    return {c: width for width, characters in table.items() for c in characters}


_REGULAR = _by_character(widths_regular.ADVANCES)
_SEMIBOLD = _by_character(widths_semibold.ADVANCES)
_PATCH_GAP_MM = 0.7
# A character that neither face has is drawn from some other: take a full square for it.
_UNKNOWN = 1000


def text_width_mm(text: str, size_mm: float, *, bold: bool = False) -> float:
    """Return the width of one line of text in millimetres, kerning left out."""
    table = _SEMIBOLD if bold else _REGULAR
    return sum(table.get(c, _UNKNOWN) for c in text) * size_mm / 1000


@dataclass(frozen=True, slots=True)
class Label:
    """One line of text about its centre; a turned one is read from the right."""

    text: str
    centre: Point
    size_mm: float = LABEL_MM
    bold: bool = False
    turned: bool = False
    fill: str = INK

    @property
    def width_mm(self) -> float:
        """Return the length of the line of text."""
        return text_width_mm(self.text, self.size_mm, bold=self.bold)

    @property
    def box(self) -> Box:
        """Return the space the text takes on the paper."""
        half_length, half_height = self.width_mm / 2, self.size_mm / 2
        across, down = half_length, half_height
        if self.turned:
            across, down = half_height, half_length
        c = self.centre
        return Box(c.x - across, c.y - down, c.x + across, c.y + down)

    @property
    def patch(self) -> Box:
        """Return the box to blank out behind the text, so that a line stops short of it."""
        b, gap = self.box, _PATCH_GAP_MM
        if self.turned:
            return Box(b.left, b.top - gap, b.right, b.bottom + gap)
        return Box(b.left - gap, b.top, b.right + gap, b.bottom)

    def moved(self, dx_mm: float, dy_mm: float) -> Label:
        """Return the same words elsewhere."""
        centre = self.centre.moved(dx_mm, dy_mm)
        return Label(self.text, centre, self.size_mm, self.bold, self.turned, self.fill)

    def markup(self) -> str:
        """Return the text element."""
        drop = (_ABOVE - _BELOW) / 2 * self.size_mm
        c = self.centre
        attributes: dict[str, str | float | int] = {
            "x": c.x,
            "y": c.y + drop,
            "font-family": FONT_FAMILY,
            "font-size": self.size_mm,
            "font-weight": BOLD_WEIGHT if self.bold else REGULAR_WEIGHT,
            "text-anchor": "middle",
            "fill": self.fill,
        }
        if self.turned:
            attributes |= {"x": 0, "y": drop}
            attributes["transform"] = f"translate({c.x:.4f} {c.y:.4f}) rotate(-90)"
        return element("text", attributes, clean(self.text))
