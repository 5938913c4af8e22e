"""Squared paper for a sketch by hand."""

from __future__ import annotations

from shared.drawing import Drawing, Scale, View
from shared.drawing.pens import FINE, HATCH
from shared.length import TICKS_PER_INCH, TICKS_PER_MM

ACROSS, DOWN = 34, 17
STRONG = 5
"""Every fifth line is a strong one, so that squares can be counted."""


def draw_grid(*, metric: bool) -> str:
    """Return squares of 5 mm, or of a fifth of an inch, as SVG."""
    pitch = 5 * TICKS_PER_MM if metric else TICKS_PER_INCH // 5
    view = View(Scale(1))
    for n in range(ACROSS + 1):
        pen = HATCH if n % STRONG else FINE
        view.line((n * pitch, 0), (n * pitch, DOWN * pitch), pen)
    for n in range(DOWN + 1):
        pen = HATCH if n % STRONG else FINE
        view.line((0, n * pitch), (ACROSS * pitch, n * pitch), pen)
    drawing = Drawing(
        10,
        10,
        key="grid",
        title="Squares for a sketch",
        description="Nothing drawn yet.",
    )
    drawing.add(view, 0, 0)
    drawing.trim()
    return drawing.svg()
