"""Builds and stock for the takeoff engine, plain frames by default."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from quotes.specs.engine.model import (
    Brace,
    Build,
    CleatRule,
    Edge,
    Hanging,
    Lies,
    NominalSize,
    PanelKind,
    PointRule,
    Position,
    Runs,
    Stock,
    StockKind,
    Takeoff,
)
from quotes.specs.engine.takeoff import take_off
from shared.length import UnitSystem, from_inches, from_mm

LB = 0.45359237  # kg, exact: NIST SP 811
LB_FT3 = 16.018463  # kg/m³
OZ_YD2 = 33.905747  # g/m²


def mm(value: float | str) -> int:
    """Millimetres in ticks."""
    return from_mm(Decimal(str(value)))


def inch(value: float | str) -> int:
    """Inches in ticks."""
    return from_inches(Decimal(str(value)))


def sheet(key: str = "ply", **fields: Any) -> Stock:
    """A 15 mm sheet of plywood, 1220 × 2440."""
    usual = {
        "thickness_ticks": mm(15),
        "width_ticks": mm(1220),
        "length_ticks": mm(2440),
        "density_kg_m3": 550.0,
    }
    return Stock(key, key.title(), StockKind.SHEET, **(usual | fields))


def board(key: str = "board", **fields: Any) -> Stock:
    """A planed batten, 20 × 45 × 2400 mm."""
    usual = {
        "thickness_ticks": mm(20),
        "width_ticks": mm(45),
        "length_ticks": mm(2400),
        "density_kg_m3": 450.0,
    }
    return Stock(key, key.title(), StockKind.BOARD, **(usual | fields))


def fabric(key: str = "cloth", **fields: Any) -> Stock:
    """A fabric, 1676 mm wide with no selvedge."""
    usual = {"width_ticks": mm(1676), "mass_g_m2": 250.0}
    return Stock(key, key.title(), StockKind.FABRIC, **(usual | fields))


def wool(key: str = "wool", **fields: Any) -> Stock:
    """A board of wool, 75 × 600 × 1200 mm."""
    usual = {
        "thickness_ticks": mm(75),
        "width_ticks": mm(600),
        "length_ticks": mm(1200),
        "density_kg_m3": 64.0,
    }
    return Stock(key, key.title(), StockKind.FILL, **(usual | fields))


def hardware(key: str = "screw", grams: float = 5.0, **fields: Any) -> Stock:
    """Something counted."""
    return Stock(key, key.title(), StockKind.HARDWARE, mass_g_each=grams, **fields)


def rack(*more: Stock) -> dict[str, Stock]:
    """The usual materials by key, with more or with others of the same key."""
    usual = (sheet(), board(), fabric(), wool(), hardware())
    return {stock.key: stock for stock in (*usual, *more)}


def brace(**fields: Any) -> Brace:
    """A flat brace across the middle, 75 mm wide, flush with the back."""
    usual: dict[str, Any] = {
        "name": "brace",
        "runs": Runs.ACROSS,
        "lies": Lies.FLAT,
        "strip_ticks": mm(75),
    }
    return Brace(**(usual | fields))


def cleat_brace(**fields: Any) -> Brace:
    """The bevelled brace under the top rail, from a 100 mm strip."""
    usual = {
        "name": "cleat brace",
        "strip_ticks": mm(100),
        "position": Position.TIGHT_TOP,
        "edge": Edge.BEVELLED,
        "bevel_deg": 45.0,
    }
    return brace(**(usual | fields))


def build(**fields: Any) -> Build:
    """A bare frame 100 mm deep, hung at four points."""
    usual: dict[str, Any] = {
        "key": "plain",
        "name": "Plain",
        "kind": PanelKind.HUNG,
        "depth_ticks": mm(100),
        "frame_stock": "ply",
        "hanging": Hanging.CHAIN,
        "points": PointRule(),
    }
    return Build(**(usual | fields))


def wall_build(**fields: Any) -> Build:
    """A wall panel on a bevelled cleat."""
    usual: dict[str, Any] = {
        "kind": PanelKind.WALL,
        "hanging": Hanging.CLEAT,
        "points": None,
        "cleat": CleatRule(),
        "braces": (cleat_brace(),),
    }
    return build(**(usual | fields))


def taken(
    made: Build | None = None,
    width: int = mm(600),
    height: int = mm(1200),
    stock: dict[str, Stock] | None = None,
    units: UnitSystem = UnitSystem.METRIC,
) -> Takeoff:
    """Take off a 600 × 1200 mm panel, or another."""
    size = NominalSize(width, height)
    return take_off(made or build(), size, stock or rack(), units=units)
