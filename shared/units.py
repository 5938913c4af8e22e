"""Exact conversions between the two systems (pure); NIST SP 811.

Physics runs in SI floats; pounds and feet are for reading and printing only.
"""

from typing import Final

from shared.length import TICKS_PER_M

MM_PER_INCH: Final = 25.4
M_PER_FOOT: Final = 0.3048
KG_PER_LB: Final = 0.45359237
STANDARD_GRAVITY_M_S2: Final = 9.80665
N_PER_LBF: Final = KG_PER_LB * STANDARD_GRAVITY_M_S2
M2_PER_FT2: Final = M_PER_FOOT**2
KG_M2_PER_LB_FT2: Final = KG_PER_LB / M2_PER_FT2
KG_M3_PER_LB_FT3: Final = KG_PER_LB / M_PER_FOOT**3
G_M2_PER_OZ_YD2: Final = 1000 * KG_PER_LB / 16 / (3 * M_PER_FOOT) ** 2
"""Ounces are avoirdupois, a sixteenth of a pound."""


def area_m2(width_ticks: int, height_ticks: int) -> float:
    """Area in square metres of a rectangle given in ticks."""
    return width_ticks * height_ticks / TICKS_PER_M**2


def volume_m3(width_ticks: int, height_ticks: int, depth_ticks: int) -> float:
    """Volume in cubic metres of a box given in ticks."""
    return width_ticks * height_ticks * depth_ticks / TICKS_PER_M**3
