"""An opening by its readings: smallest size, spread, out of square, what fits in.

A removable panel has to pass the smallest reading. Diagonals tell how far the opening leans:
by the parallelogram law, d1² - d2² = 4 · W · H · sin d.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import asin, degrees, hypot, sqrt

from shared.length import TICKS_PER_INCH, TICKS_PER_MM, UnitSystem
from shop.surveys.engine.errors import SurveyError

VERSION = "opening-1"

SPREAD_LIMIT_TICKS = TICKS_PER_INCH // 8
"""Three readings of one size agree within 1/8 in (window measuring guides: a custom)."""

DIAGONAL_LIMIT_TICKS = TICKS_PER_INCH // 4
"""Both diagonals agree within 1/4 in (window measuring guides: a custom)."""

CLEARANCE_TICKS = {
    UnitSystem.METRIC: 3 * TICKS_PER_MM,
    UnitSystem.IMPERIAL: TICKS_PER_INCH // 8,
}
"""Room left on each side of a removable panel: 3 mm or 1/8 in (common practice)."""

MOST_READINGS = 3


@dataclass(frozen=True, slots=True)
class Readings:
    """What was read of an opening, in ticks.

    `rising_right_ticks` is the diagonal up to the right, `rising_left_ticks` the other one;
    nothing where it was not read.
    """

    widths_ticks: tuple[int, ...]
    heights_ticks: tuple[int, ...]
    rising_right_ticks: int | None = None
    rising_left_ticks: int | None = None

    def __post_init__(self) -> None:
        """Ask for one to three readings of each size, all above zero."""
        for field, read in (
            ("width", self.widths_ticks),
            ("height", self.heights_ticks),
        ):
            if not 1 <= len(read) <= MOST_READINGS:
                raise SurveyError(field, "Read it once, or up to three times.")
        diagonals = (self.rising_right_ticks, self.rising_left_ticks)
        known = [d for d in diagonals if d is not None]
        if min(*self.widths_ticks, *self.heights_ticks, *known) <= 0:
            raise SurveyError("reading", "A reading is more than nothing.")


@dataclass(frozen=True, slots=True)
class Lean:
    """How far an opening is out of square, to the right where positive.

    `lean_ticks` is how far the top stands beside the bottom over the whole height.
    """

    degrees: float
    lean_ticks: float
    upright_width_ticks: float


@dataclass(frozen=True, slots=True)
class Shape:
    """An opening's smallest size and how true it is.

    `lean` is nothing where a diagonal is missing, or where both cannot belong to it.
    """

    width_ticks: int
    height_ticks: int
    width_spread_ticks: int
    height_spread_ticks: int
    lean: Lean | None
    version: str = VERSION


@dataclass(frozen=True, slots=True)
class Fit:
    """The size of a rectangle that is meant to go in, in ticks.

    `goes_in` is nothing where no diagonals tell.
    """

    width_ticks: int
    height_ticks: int
    goes_in: bool | None


def shape_of(readings: Readings) -> Shape:
    """Return the smallest size, the spread and the lean of an opening.

    Parameters
    ----------
    readings
        One to three widths and heights in ticks, and the diagonals where they were read.

    Returns
    -------
    Shape
        Smallest readings and spreads exact in ticks; the lean from the smallest sizes.
    """
    widths, heights = readings.widths_ticks, readings.heights_ticks
    width, height = min(widths), min(heights)
    return Shape(
        width_ticks=width,
        height_ticks=height,
        width_spread_ticks=max(widths) - width,
        height_spread_ticks=max(heights) - height,
        lean=_lean(width, height, readings),
    )


def _lean(width_ticks: int, height_ticks: int, readings: Readings) -> Lean | None:
    right, left = readings.rising_right_ticks, readings.rising_left_ticks
    if right is None or left is None:
        return None
    sine = (right**2 - left**2) / (4 * width_ticks * height_ticks)
    if abs(sine) > 1:
        return None
    lean = height_ticks * sine
    return Lean(degrees(asin(sine)), lean, max(0.0, width_ticks - abs(lean)))


def ideal_diagonal_ticks(width_ticks: int, height_ticks: int) -> float:
    """Return the diagonal of a true rectangle, in ticks (Pythagoras)."""
    return hypot(width_ticks, height_ticks)


def mean_diagonal_ticks(rising_right_ticks: int, rising_left_ticks: int) -> float:
    """Return the diagonal that both would have were the opening square, in ticks.

    By the parallelogram law the mean of their squares is W² + H² however much it leans.
    """
    return sqrt((rising_right_ticks**2 + rising_left_ticks**2) / 2)


def fit_in(shape: Shape, *, clearance_ticks: int) -> Fit | None:
    """Return the smallest size less the clearance on every side; nothing when none is left.

    Parameters
    ----------
    shape
        The opening.
    clearance_ticks
        Room on each of the four sides, in ticks, zero or more.
    """
    if clearance_ticks < 0:
        raise SurveyError("clearance", "Clearance is zero or more.")
    width = shape.width_ticks - 2 * clearance_ticks
    height = shape.height_ticks - 2 * clearance_ticks
    if width <= 0 or height <= 0:
        return None
    goes_in = None if shape.lean is None else width <= shape.lean.upright_width_ticks
    return Fit(width, height, goes_in)
