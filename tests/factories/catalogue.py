"""Suppliers, one material of each kind, and operations, as small as they may be."""

from __future__ import annotations

from decimal import Decimal
from itertools import count
from typing import Any

from shared.length import TICKS_PER_MM
from shop.catalogue.models import (
    BANDS,
    Finish,
    Material,
    MaterialKind,
    Operation,
    Supplier,
)

_numbers = count(1)


def mm(value: float) -> int:
    """Millimetres as ticks."""
    return round(value * TICKS_PER_MM)


def make_supplier(*, name: str = "", **fields: Any) -> Supplier:
    """Somebody the shop buys from."""
    return Supplier.objects.create(name=name or f"Yard {next(_numbers)}", **fields)


def _make(
    kind: MaterialKind, defaults: dict[str, Any], given: dict[str, Any]
) -> Material:
    number = next(_numbers)
    named = {"kind": kind, "code": f"{kind}-{number}", "name": f"{kind.label} {number}"}
    return Material.objects.create(**named | defaults | given)


def make_sheet(**fields: Any) -> Material:
    """Plywood, 2440 × 1220 × 15 mm."""
    size = {
        "thickness_ticks": mm(14.6),
        "width_ticks": mm(1220),
        "length_ticks": mm(2440),
        "density_kg_m3": 620.0,
        "pack_price": Decimal("48.00"),
    }
    return _make(MaterialKind.SHEET, size, fields)


def make_board(**fields: Any) -> Material:
    """A batten, 18 × 44 × 2400 mm."""
    size = {
        "thickness_ticks": mm(18),
        "width_ticks": mm(44),
        "length_ticks": mm(2400),
        "density_kg_m3": 470.0,
        "pack_price": Decimal("3.20"),
    }
    return _make(MaterialKind.BOARD, size, fields)


def make_fabric(**fields: Any) -> Material:
    """Open cloth on a roll of 50 m, 1520 mm wide."""
    roll = {
        "width_ticks": mm(1520),
        "selvedge_ticks": mm(10),
        "mass_g_m2": 310.0,
        "pack_quantity": Decimal(50),
        "pack_price": Decimal("900.00"),
    }
    return _make(MaterialKind.FABRIC, roll, fields)


def make_fill(**fields: Any) -> Material:
    """Mineral wool slabs, 600 × 1200 × 50 mm, eight in a pack."""
    size = {
        "thickness_ticks": mm(50),
        "width_ticks": mm(600),
        "length_ticks": mm(1200),
        "density_kg_m3": 45.0,
        "pack_quantity": Decimal(8),
        "pack_price": Decimal("36.00"),
    }
    return _make(MaterialKind.FILL, size, fields)


def make_hardware(**fields: Any) -> Material:
    """Eye bolts, a box of a hundred."""
    box = {
        "mass_g_each": 18.0,
        "pack_quantity": Decimal(100),
        "pack_price": Decimal("22.00"),
    }
    return _make(MaterialKind.HARDWARE, box, fields)


def make_consumable(**fields: Any) -> Material:
    """Staples by the box."""
    box = {"pack_quantity": Decimal(5000), "pack_price": Decimal("9.00")}
    return _make(MaterialKind.CONSUMABLE, box, fields)


def make_operation(
    *,
    stage: str = "build",
    driver: str = "joint",
    minutes: str | Decimal = "4.5",
    hourly_rate: str | Decimal = "48.00",
    **fields: Any,
) -> Operation:
    """4 joints × 4.5 min × 48.00 an hour is the textbook line."""
    number = next(_numbers)
    named = {"code": f"work-{number}", "name": f"Work {number}"} | fields
    return Operation.objects.create(
        stage=stage,
        driver=driver,
        minutes=Decimal(minutes),
        hourly_rate=Decimal(hourly_rate),
        **named,
    )


def make_finish(**fields: Any) -> Finish:
    """Something hard that swallows little, from an invented table."""
    number = next(_numbers)
    usual = {f"at_{band}": Decimal("0.05") for band in BANDS}
    named = {"key": f"finish-{number}", "name": f"Finish {number}", "source": "a table"}
    return Finish.objects.create(**named | usual | fields)
