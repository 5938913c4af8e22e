"""Forces at hanging points and cleat screws, in newtons; angles in degrees.

Statics without a margin of its own: the margin is in the maker's working load, which the
results are compared with.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from quotes.safety.engine.errors import SafetyError
from shared.units import STANDARD_GRAVITY_M_S2

# Over 45° from upright the pull grows fast (NAVEDTRA 14080: keep over 45° from level).
STEEPEST_DEG = 45.0


def weight_n(mass_kg: float) -> float:
    """Return m g in newtons, with standard gravity."""
    if mass_kg <= 0:
        raise SafetyError("mass_kg", "Enter what the panel weighs.")
    return mass_kg * STANDARD_GRAVITY_M_S2


def two_point_share_n(weight: float, angle_deg: float = 0.0) -> float:
    """Return what each of two opposite points holds, T = W / (2 cos a), in newtons.

    Four chains on a stiff panel share in no known way: two may take practically all
    of it (NAVEDTRA 14080, p. 3-23), so each point is asked for half of the whole.

    Parameters
    ----------
    weight : the whole panel's, in newtons. angle_deg : of the chain from upright.

    Raises
    ------
    SafetyError for an angle under 0° or over 45°.
    """
    if not 0 <= angle_deg <= STEEPEST_DEG:
        raise SafetyError(
            "angle_deg", "Hang the chains within 45° of upright: they pull too hard."
        )
    return weight / (2 * math.cos(math.radians(angle_deg)))


@dataclass(frozen=True, slots=True)
class At:
    """A place on the panel's face, in metres."""

    x_m: float
    y_m: float


def springy_shares_n(
    weight: float, points: tuple[At, ...], centre: At
) -> tuple[float, ...]:
    """Return what equally springy chains would hold, in newtons: information only.

    For points in rows and columns about their middle, T = W (1/n + x ex / Σx² +
    y ey / Σy²); for four that is W (1/4 ± ex / 2A ± ey / 2B). Less than nothing means
    that the chain hangs slack.
    """
    count = len(points)
    middle = At(sum(p.x_m for p in points) / count, sum(p.y_m for p in points) / count)
    across = [p.x_m - middle.x_m for p in points]
    along = [p.y_m - middle.y_m for p in points]
    lean_x = _lean(across, centre.x_m - middle.x_m)
    lean_y = _lean(along, centre.y_m - middle.y_m)
    return tuple(
        weight * (1 / count + x * lean_x + y * lean_y)
        for x, y in zip(across, along, strict=True)
    )


def _lean(offsets: list[float], centre: float) -> float:
    """Return e / Σx²; nothing where all points lie on one line that way."""
    spread = sum(offset**2 for offset in offsets)
    return centre / spread if spread else 0.0


@dataclass(frozen=True, slots=True)
class ScrewLoad:
    """What each screw of a wall cleat holds, in newtons: along the wall and out of it."""

    shear_n: float
    pull_n: float

    @property
    def together_n(self) -> float:
        """Both added: the cautious sum, for a screw with one rating."""
        return self.shear_n + self.pull_n


def cleat_screw_load(
    weight: float, *, screws: int, off_wall_m: float, arm_m: float, bevel_deg: float
) -> ScrewLoad:
    """Return P / n of shear and (P e / h + P tan θ) / n of outward pull for each screw.

    Overturning about the bottom bumper, and the wedge of the bevel without friction:
    an upper bound (statics, no source).

    Parameters
    ----------
    weight : the panel's P, in newtons. off_wall_m : its centre of mass off the wall, e.
    arm_m : height of the cleat above the bottom bumper, h. bevel_deg : θ from square.
    """
    if screws < 1:
        raise SafetyError("screws", "A wall cleat needs screws.")
    if arm_m <= 0:
        raise SafetyError("arm_m", "The cleat must lie above the bottom of the panel.")
    pull = weight * off_wall_m / arm_m + weight * math.tan(math.radians(bevel_deg))
    return ScrewLoad(shear_n=weight / screws, pull_n=pull / screws)
