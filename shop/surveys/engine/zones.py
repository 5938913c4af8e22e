"""How large what must stay clear usually is, and how much stays free round it.

Each shop may take other figures. None of them is a code's minimum for a given building:
local code and the trades concerned decide.
"""

from __future__ import annotations

from dataclasses import dataclass

from shared.length import TICKS_PER_MM

VERSION = "zones-1"

CUSTOM = "common practice, no source"
ASK = "no general figure: ask, or read it"


@dataclass(frozen=True, slots=True)
class Usual:
    """What is usual for a kind, in ticks; nothing where no size is.

    ``source`` says where the margin comes from.
    """

    margin_ticks: int = 0
    width_ticks: int | None = None
    height_ticks: int | None = None
    source: str = CUSTOM


def _mm(
    margin: int,
    width: int | None = None,
    height: int | None = None,
    source: str = CUSTOM,
) -> Usual:
    return Usual(
        margin * TICKS_PER_MM,
        width and width * TICKS_PER_MM,
        height and height * TICKS_PER_MM,
        source,
    )


USUAL = {
    "switch": _mm(50, 80, 80),
    "outlet": _mm(50, 80, 80),
    "thermostat": _mm(150, 120, 120),
    "supply": _mm(150, 300, 150),
    "return": _mm(150, 400, 250),
    "sprinkler": _mm(457, 60, 60, "18 in, NFPA 13 as safety offices restate it"),
    "detector": _mm(914, 120, 120, "36 in, common practice; the fire officer decides"),
    "downlight": _mm(75, 100, 100, "3 in to insulation, NEC 410.116"),
    "radiator": _mm(100),
    "fireplace": _mm(0, source=ASK),
    "screen": _mm(50),
    "door_swing": _mm(0, source=ASK),
    "other": _mm(0, source=ASK),
}
"""By kind. Sizes are common practice without a source; a radiator, a fireplace, a screen and
the swing of a door have no usual one."""


def usual_of(kind: str, *, of_shop: Usual | None = None) -> Usual:
    """Return what is usual for a kind: the shop's own figures, else those above."""
    return of_shop or USUAL.get(kind, USUAL["other"])
