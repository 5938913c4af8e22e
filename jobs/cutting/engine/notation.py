"""How a plan's lengths and parts are written on screen and paper (pure)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from string import ascii_uppercase

from jobs.cutting.engine.request import Request
from shared.length import UnitSystem, show, show_size


@dataclass(frozen=True, slots=True)
class Notation:
    """Prints lengths as a tape at the saw reads: no feet."""

    units: UnitSystem
    fraction: int = 16

    def length(self, ticks: int) -> str:
        """Print a length with its unit."""
        return show(ticks, units=self.units, fraction=self.fraction, feet=False)

    def bare(self, ticks: int) -> str:
        """Print a length without its unit."""
        return show(
            ticks,
            units=self.units,
            fraction=self.fraction,
            unit_mark=False,
            feet=False,
        )

    def size(self, *sides: int) -> str:
        """Print a size."""
        return show_size(*sides, units=self.units, fraction=self.fraction)


def letters_of(request: Request) -> Mapping[str, str]:
    """Name the parts A, B … Z, AA … by key, in their order."""
    return {part.key: _letter(i) for i, part in enumerate(request.parts)}


def _letter(index: int) -> str:
    more, last = divmod(index, len(ascii_uppercase))
    return (_letter(more - 1) if more else "") + ascii_uppercase[last]
