"""How derivations write lengths, areas and counts."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from quotes.specs.engine.measure import metres
from shared.length import UnitSystem, show, show_size
from shared.units import KG_PER_LB, M_PER_FOOT

FEET_PER_METRE = 1 / Decimal(str(M_PER_FOOT))


@dataclass(frozen=True, slots=True)
class Notation:
    """The shop's unit system and inch fraction, for derivations only.

    Figures printed here are rounded for people and never go back into a sum.
    """

    units: UnitSystem = UnitSystem.METRIC
    fraction: int = 16

    def length(self, ticks: int) -> str:
        """Print a length as a tape shows it."""
        return show(ticks, units=self.units, fraction=self.fraction, feet=False)

    def size(self, *ticks: int) -> str:
        """Print two or three sides as one size."""
        return show_size(*ticks, units=self.units, fraction=self.fraction)

    def run(self, ticks: int) -> str:
        """Print a summed length: metres to the millimetre, or feet to a hundredth."""
        if self.units is UnitSystem.METRIC:
            return f"{metres(ticks):.3f} m"
        return f"{metres(ticks) * FEET_PER_METRE:.2f} ft"

    def mass(self, kg: float) -> str:
        """Print a mass to a tenth of a kilogram, or to half a pound."""
        if self.units is UnitSystem.METRIC:
            return f"{kg:.1f} kg"
        return f"{round(kg / KG_PER_LB * 2) / 2:.1f} lb"


def times(*pairs: tuple[int, str]) -> str:
    """Print a sum of counted lengths: 2 × 600 mm + 2 × 1170 mm."""
    return " + ".join(f"{count} × {text}" for count, text in pairs)


def number(value: Decimal | int) -> str:
    """Print an exact count without trailing zeros, at most four decimals."""
    text = f"{Decimal(value):.4f}"
    return text.rstrip("0").rstrip(".")
