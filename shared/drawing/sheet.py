"""The finished drawing: views placed on paper, given out as one SVG."""

from __future__ import annotations

import re
from dataclasses import dataclass

from shared.drawing.geometry import Box, union
from shared.drawing.markup import clean, element, number
from shared.drawing.pens import PAPER
from shared.drawing.text import Label
from shared.drawing.view import View

MARGIN_MM = 3.0
_KEY = re.compile(r"[A-Za-z][A-Za-z0-9_-]*\Z")


@dataclass(frozen=True, slots=True)
class _Placed:
    view: View
    dx_mm: float
    dy_mm: float

    @property
    def extent(self) -> Box:
        return self.view.extent.moved(self.dx_mm, self.dy_mm)


class Drawing:
    """Views on one white sheet, with a title and a description for those who can't see it.

    Parameters
    ----------
    width_mm, height_mm : float
        The sheet. ``fits()`` says whether all that was added lies within it.
    key : str
        Begins every id, so that several drawings can stand in one document: a letter, then
        letters, digits, hyphens and underscores.
    title, description : str
        Plain text; the title becomes the alternative text of the figure in the PDF.
    """

    def __init__(
        self,
        width_mm: float,
        height_mm: float,
        *,
        key: str,
        title: str,
        description: str,
    ) -> None:
        """Take an empty sheet."""
        if not _KEY.match(key):
            raise ValueError(
                "a drawing's key is a letter, then letters, digits, - or _"
            )
        self.paper = Box(0, 0, width_mm, height_mm)
        self.key = key
        self.title = title
        self.description = description
        self._placed: list[_Placed] = []

    def add(self, view: View, left_mm: float, top_mm: float) -> Box:
        """Place a view with the top left of its extent there; return where it now lies."""
        extent = view.extent
        placed = _Placed(view, left_mm - extent.left, top_mm - extent.top)
        self._placed.append(placed)
        return placed.extent

    @property
    def extent(self) -> Box:
        """Return the box round everything placed."""
        return union(placed.extent for placed in self._placed)

    def fits(self) -> bool:
        """Say whether everything placed lies on the sheet, its margin kept clear."""
        inside = self.paper.grown(-MARGIN_MM + 1e-6)
        return not self._placed or inside.contains(self.extent)

    def trim(self) -> None:
        """Cut (or stretch) the sheet to what is on it, with the margin round it."""
        self.paper = self.extent.grown(MARGIN_MM)

    def labels(self) -> tuple[Label, ...]:
        """Return all words where they lie on the sheet."""
        return tuple(
            label.moved(p.dx_mm, p.dy_mm)
            for p in self._placed
            for label in p.view.labels()
        )

    def label_boxes(self) -> tuple[Box, ...]:
        """Return the room each piece of writing takes on the sheet."""
        return tuple(label.box for label in self.labels())

    def svg(self) -> str:
        """Return the drawing as one SVG element, sized in millimetres."""
        p = self.paper
        ids = (f"{self.key}-title", f"{self.key}-desc")
        head = element("title", {"id": ids[0]}, clean(self.title) or " ")
        head += element("desc", {"id": ids[1]}, clean(self.description) or " ")
        sheet = {"x": p.left, "y": p.top, "width": p.width, "height": p.height}
        head += element("rect", {**sheet, "fill": PAPER})
        attributes: dict[str, str | float | int] = {
            "xmlns": "http://www.w3.org/2000/svg",
            "id": self.key,
            "width": f"{number(p.width)}mm",
            "height": f"{number(p.height)}mm",
            "viewBox": " ".join(number(n) for n in (p.left, p.top, p.width, p.height)),
            "role": "img",
            "aria-labelledby": " ".join(ids),
        }
        return element("svg", attributes, head + "".join(map(_group, self._placed)))


def _group(placed: _Placed) -> str:
    move = f"translate({number(placed.dx_mm)} {number(placed.dy_mm)})"
    return element("g", {"transform": move}, placed.view.markup())
