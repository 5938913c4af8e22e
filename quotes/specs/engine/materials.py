"""Looking materials up, and what a material weighs."""

from __future__ import annotations

from collections.abc import Mapping

from quotes.specs.engine.errors import TakeoffError
from quotes.specs.engine.measure import M_PER_TICK
from quotes.specs.engine.stock import Stock, StockKind

TICK_M = float(M_PER_TICK)


def find(materials: Mapping[str, Stock], key: str, field: str) -> Stock:
    """Return a material by key, or say which field names one that is not there."""
    try:
        return materials[key]
    except KeyError:
        raise TakeoffError(
            field, f"The material “{key}” is not in the catalogue: choose another."
        ) from None


def find_wood(materials: Mapping[str, Stock], key: str, field: str) -> Stock:
    """Return a sheet or a board that strips can be ripped from, with its mass known."""
    stock = find(materials, key, field)
    if not stock.is_wood:
        raise TakeoffError(field, f"{stock.name} is neither a sheet nor a board.")
    if not (stock.density_kg_m3 or stock.mass_g_m2):
        raise TakeoffError(field, f"{stock.name}: enter its density, or weigh a sheet.")
    return stock


def find_cloth(materials: Mapping[str, Stock], key: str, field: str) -> Stock:
    """Return a fabric by the roll, with its mass known."""
    stock = find(materials, key, field)
    if stock.kind is not StockKind.FABRIC:
        raise TakeoffError(field, f"{stock.name} is not a fabric.")
    if not stock.mass_g_m2:
        raise TakeoffError(field, f"{stock.name}: enter its mass for each m².")
    return stock


def find_fill(materials: Mapping[str, Stock], key: str) -> Stock:
    """Return a fill, with its mass known."""
    stock = find(materials, key, "fill")
    if stock.kind is not StockKind.FILL:
        raise TakeoffError("fill", f"{stock.name} is not a fill.")
    if not (stock.density_kg_m3 or stock.mass_g_m2):
        raise TakeoffError("fill", f"{stock.name}: enter its density from the pack.")
    return stock


def wood_kg(stock: Stock, face_ticks: float, length_ticks: float) -> float:
    """Return the mass in kg of a strip face wide and length long, in the stock's thickness.

    ρ · width · thickness · length, or mass by area for a weighed sheet.
    """
    return _kg_m2(stock) * face_ticks * length_ticks * TICK_M**2


def flat_kg(stock: Stock, width_ticks: int, height_ticks: int) -> float:
    """Return the mass in kg of a flat piece of fabric or of one layer of fill."""
    return _kg_m2(stock) * width_ticks * height_ticks * TICK_M**2


def _kg_m2(stock: Stock) -> float:
    """Mass by area in kg/m²; what was weighed goes before what a density says."""
    if stock.mass_g_m2:
        return stock.mass_g_m2 / 1000
    return stock.density_kg_m3 * stock.thickness_ticks * TICK_M


def mass_basis(stock: Stock) -> str:
    """Say what the mass is worked out from."""
    if stock.mass_g_m2:
        return f"{stock.mass_g_m2:.0f} g/m²"
    return f"{stock.density_kg_m3:.0f} kg/m³"
