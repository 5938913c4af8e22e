"""Materials that the five builds name, with plain figures to begin with.

Densities: plywood 550 kg/m³ or 36 lb/ft³ (3.0 lb/ft² an inch), pine 448 kg/m³,
wool 64 kg/m³ (4 lb/ft³); real sheets vary by some 15 %, so weigh one and type it in.
What hardware weighs is a guess to be weighed too. None carries a working load: that
is its maker's to state.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Protocol

from quotes.specs.engine.stock import Stock, StockKind, wood_density_kg_m3
from shared.length import UnitSystem, from_inches, from_mm
from shared.units import KG_M3_PER_LB_FT3

# Pine and spruce, G 0.40 at 12 % moisture (Wood Handbook, chapter 5).
PINE_KG_M3 = wood_density_kg_m3(0.40, moisture_percent=12)


def preset_stock(units: UnitSystem = UnitSystem.METRIC) -> tuple[Stock, ...]:
    """Return the materials of the five builds, sized in the shop's system."""
    metric = units is UnitSystem.METRIC

    def at(mm: str, inches: str) -> int:
        return from_mm(Decimal(mm)) if metric else from_inches(Decimal(inches))

    return (
        *_wood(at, density_kg_m3=550.0 if metric else 36 * KG_M3_PER_LB_FT3),
        *_soft(at),
        *_counted(),
    )


class _At(Protocol):
    def __call__(self, mm: str, inches: str) -> int: ...


def _wood(at: _At, *, density_kg_m3: float) -> tuple[Stock, ...]:
    return (
        Stock(
            key="frame-ply",
            name="Plywood for frames",
            kind=StockKind.SHEET,
            thickness_ticks=at("15", "0.625"),
            width_ticks=at("1220", "48"),
            length_ticks=at("2440", "96"),
            density_kg_m3=density_kg_m3,
        ),
        Stock(
            key="batten",
            name="Batten",
            kind=StockKind.BOARD,
            thickness_ticks=at("20", "0.75"),
            width_ticks=at("44", "1.5"),
            length_ticks=at("2400", "96"),
            density_kg_m3=PINE_KG_M3,
        ),
        Stock(
            key="foot-board",
            name="Board for feet",
            kind=StockKind.BOARD,
            thickness_ticks=at("28", "1.5"),
            width_ticks=at("90", "3.5"),
            length_ticks=at("2400", "96"),
            density_kg_m3=PINE_KG_M3,
        ),
    )


def _soft(at: _At) -> tuple[Stock, ...]:
    return (
        Stock(
            key="wool",
            name="Mineral wool board",
            kind=StockKind.FILL,
            thickness_ticks=at("75", "3"),
            width_ticks=at("600", "24"),
            length_ticks=at("1200", "48"),
            density_kg_m3=64.0,
        ),
        Stock(
            key="front-fabric",
            name="Panel fabric",
            kind=StockKind.FABRIC,
            width_ticks=at("1680", "66"),
            selvedge_ticks=at("12", "0.5"),
            mass_g_m2=300.0,
        ),
        Stock(
            key="back-cloth",
            name="Backing cloth",
            kind=StockKind.FABRIC,
            width_ticks=at("1600", "63"),
            selvedge_ticks=at("10", "0.375"),
            mass_g_m2=80.0,
        ),
        Stock(
            key="edge-strip",
            name="Compressible edge strip",
            kind=StockKind.HARDWARE,
            thickness_ticks=at("6", "0.25"),
            width_ticks=at("20", "0.75"),
            mass_g_each=10.0,
            unit="m",
        ),
    )


COUNTED = (
    ("wall-screw", "Screw for the wall cleat", 6.0, "each"),
    ("wall-bumper", "Felt bumper", 0.5, "each"),
    ("block-screw", "Screw for blocking", 3.0, "each"),
    ("eye-bolt", "Through-bolted eye with washers and nut", 70.0, "each"),
    ("quick-link", "Screw-gate link", 25.0, "each"),
    ("chain", "Welded chain", 250.0, "m"),
    ("ceiling-eye", "Eye for the ceiling framing", 60.0, "each"),
    ("pull-tab", "Pull tab", 4.0, "each"),
    ("batten-screw", "Screw for battens", 6.0, "each"),
    ("touch-pad", "Pair of touch-fastener pads", 4.0, "each"),
    ("foot-bolt", "Bolt for the feet", 45.0, "each"),
)
USED_UP = (
    ("nail", "16 gauge nail", 0.8, "each"),
    ("staple", "Staple", 0.1, "each"),
    ("glue", "Wood glue", 1.1, "ml"),
)


def _counted() -> tuple[Stock, ...]:
    return tuple(
        Stock(key=key, name=name, kind=kind, mass_g_each=grams, unit=unit)
        for kind, rows in (
            (StockKind.HARDWARE, COUNTED),
            (StockKind.CONSUMABLE, USED_UP),
        )
        for key, name, grams, unit in rows
    )
