"""A small picture of a panel's front, to scale but without dimensions."""

from __future__ import annotations

import re
from math import ceil

from quotes.specs.engine.drawing.paper import Panel, Paper
from quotes.specs.engine.words import PartRole
from shared.drawing import Drawing, Scale, View
from shared.drawing.pens import CLOTH_TINT, METAL_TINT, OUTLINE, WOOD_TINT
from shared.drawing.scale import TICKS_PER_MM

_COLOUR = re.compile(r"#[0-9a-fA-F]{6}\Z")
_MARGIN_MM = 1.0
_POINT_MM = 0.5


def thumbnail(panel: Panel, paper: Paper, *, cloth: str = CLOTH_TINT) -> Drawing:
    """Return the front alone, as large as the paper holds at a whole-numbered scale.

    ``cloth`` is the fabric's colour, #rrggbb; anything else is refused.
    """
    if not _COLOUR.match(cloth):
        raise ValueError("a colour is written #rrggbb")
    finished, stand = panel.takeoff.finished, panel.takeoff.hang.stand_ticks
    across = (paper.width_mm - 2 * _MARGIN_MM) * TICKS_PER_MM
    down = (paper.height_mm - 2 * _MARGIN_MM) * TICKS_PER_MM
    height = finished.height_ticks + stand
    scale = Scale(max(1, ceil(finished.width_ticks / across), ceil(height / down)))
    view = View(scale)
    for part, place in panel.placed():
        if part.role is PartRole.FOOT:
            high = (
                place.x_ticks + place.width_ticks,
                place.y_ticks + place.height_ticks,
            )
            view.rect((place.x_ticks, place.y_ticks), high, OUTLINE.filled(WOOD_TINT))
    view.rect((0, 0), (panel.width, panel.height), OUTLINE.filled(cloth))
    for point in panel.takeoff.hang.points:
        view.disc((point.x_ticks, point.y_ticks), _POINT_MM, OUTLINE.filled(METAL_TINT))
    return _on_sheet(view, panel, paper)


def _on_sheet(view: View, panel: Panel, paper: Paper) -> Drawing:
    finished = panel.takeoff.finished
    drawing = Drawing(
        paper.width_mm,
        paper.height_mm,
        key=paper.key,
        title=paper.title,
        description=f"Front, {paper.size(finished.width_ticks, finished.height_ticks)}.",
    )
    box = view.extent
    left, top = (paper.width_mm - box.width) / 2, (paper.height_mm - box.height) / 2
    drawing.add(view, left, top)
    return drawing
