"""Which way a cut lies on the paper: upright, or level with the front face down."""

from __future__ import annotations

from dataclasses import dataclass

from shared.drawing import BrokenAxis, Point, Side, Spot, View


@dataclass(frozen=True, slots=True)
class Lie:
    """Turns depth (z) and height (y) of the panel into places on the paper.

    Upright has the front to the left and the top up; level has the front below and the
    panel's bottom edge to the left, as a panel hangs from a ceiling.
    """

    level: bool

    def view(self, axis: BrokenAxis) -> View:
        """Start a view whose long way follows the broken axis."""
        if self.level:
            return View(axis.scale, x_axis=axis)
        return View(axis.scale, y_axis=axis)

    def spot(self, z: int, y: int) -> Spot:
        """Return the view's coordinates, in ticks."""
        return (y, z) if self.level else (z, y)

    def point(
        self, view: View, z: int, y: int, *, back_mm: float = 0, up_mm: float = 0
    ) -> Point:
        """Return a place on the paper, shifted towards the back and the top."""
        at = view.at(self.spot(z, y))
        return at.moved(up_mm, -back_mm) if self.level else at.moved(back_mm, -up_mm)

    @property
    def depth_side(self) -> Side:
        """Where depths are dimensioned."""
        return Side.LEFT if self.level else Side.BELOW

    @property
    def length_side(self) -> Side:
        """Where heights are dimensioned."""
        return Side.BELOW if self.level else Side.RIGHT

    @property
    def names_side(self) -> Side:
        """Where names stand."""
        return Side.RIGHT if self.level else Side.LEFT

    @property
    def words(self) -> str:
        """Say which way round it is drawn."""
        return "front face down" if self.level else "front to the left"
