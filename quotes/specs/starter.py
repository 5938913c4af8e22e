"""A catalogue to begin with: generic materials and work, at invented prices.

Every price, minute and rate is a placeholder to be replaced by the shop's own. No
material has a rated load, a fire class or an airflow resistivity: those are the
makers' to state, and the shop enters them with their source.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.db import transaction

from quotes.specs.engine.model import Stock
from quotes.specs.engine.preset_stock import preset_stock
from quotes.specs.models import BuildSpec
from quotes.specs.presets import create_five_builds
from shared.length import UnitSystem, from_inches, from_mm
from shop.catalogue.models import Driver, Material, Operation, WorkStage
from shop.people.models import Person

HOURLY_RATE = Decimal(48)
"""Invented, in the shop's currency."""

NAMES = {
    "frame-ply": ("Plywood 15 mm", "Plywood 5/8 in"),
    "batten": ("Pine batten 20 × 44 mm", "Pine batten 1 × 2"),
    "foot-board": ("Pine board 28 × 90 mm", "Pine board 2 × 4"),
    "wool": ("Mineral wool board 75 mm", "Mineral wool board 3 in"),
    "front-fabric": ("Harbour weave, slate", "Harbour weave, slate"),
    "back-cloth": ("Backing cloth, black", "Backing cloth, black"),
}
"""What the labels say, in a metric and in an imperial shop."""

PACKS = {
    "frame-ply": ("1", "46.00"),
    "batten": ("1", "3.40"),
    "foot-board": ("1", "8.90"),
    "wool": ("6", "52.00"),
    "front-fabric": ("50", "950.00"),
    "back-cloth": ("100", "240.00"),
    "edge-strip": ("25", "38.00"),
    "wall-screw": ("100", "14.00"),
    "wall-bumper": ("100", "6.50"),
    "block-screw": ("200", "12.00"),
    "eye-bolt": ("20", "34.00"),
    "quick-link": ("20", "42.00"),
    "chain": ("30", "78.00"),
    "ceiling-eye": ("20", "36.00"),
    "pull-tab": ("50", "22.00"),
    "batten-screw": ("100", "14.00"),
    "touch-pad": ("50", "18.00"),
    "foot-bolt": ("50", "41.00"),
    "nail": ("2500", "16.00"),
    "staple": ("10000", "19.00"),
    "glue": ("5000", "45.00"),
}
"""How many in a pack and what it costs, by code; invented."""

COLOURS = {"front-fabric": "#5b6770", "back-cloth": "#1f1f1f"}

MORE_FABRICS = (
    ("harbour-moss", "Harbour weave, moss", "#5d6b45", "19.00"),
    ("harbour-sand", "Harbour weave, sand", "#c9b899", "19.00"),
    ("kiln-brick", "Kiln wool, brick", "#9a4a3a", "34.00"),
    ("kiln-ink", "Kiln wool, ink", "#2e3a55", "34.00"),
    ("thin-lining", "Thin lining, white", "#f2f0ea", "3.20"),
)
"""Code, invented name, colour and price a metre."""


@dataclass(frozen=True, slots=True)
class Work:
    """One operation of the starter: its minutes are per unit of its driver."""

    code: str
    name: str
    stage: WorkStage
    driver: Driver
    minutes: str


WORK = (
    Work("mark-out", "Measure stock and mark out", WorkStage.BUILD, Driver.PANEL, "4"),
    Work("rip", "Rip strips", WorkStage.BUILD, Driver.RIP_METRE, "0.6"),
    Work("bevel-rip", "Rip bevels", WorkStage.BUILD, Driver.BEVEL_METRE, "1.5"),
    Work("crosscut", "Crosscut to length", WorkStage.BUILD, Driver.CUT, "0.8"),
    Work("corners", "Glue and fasten corners", WorkStage.BUILD, Driver.JOINT, "4.5"),
    Work("fit-braces", "Fit braces", WorkStage.BUILD, Driver.BRACE, "3"),
    Work("fit-blocks", "Fit and drill blocks", WorkStage.BUILD, Driver.BLOCK, "5"),
    Work("lay-fill", "Cut and lay fill", WorkStage.UPHOLSTER, Driver.FILL_PIECE, "3.5"),
    Work("cut-fabric", "Cut fabric", WorkStage.UPHOLSTER, Driver.FABRIC_M2, "2.5"),
    Work(
        "staple-fabric",
        "Stretch and staple fabric",
        WorkStage.UPHOLSTER,
        Driver.FABRIC_EDGE_METRE,
        "4",
    ),
    Work(
        "edge-strip",
        "Fix the edge strip",
        WorkStage.UPHOLSTER,
        Driver.EDGE_STRIP_METRE,
        "1.5",
    ),
    Work("check-and-wrap", "Check, wrap and label", WorkStage.PACK, Driver.PANEL, "6"),
    Work(
        "drill-and-fix",
        "Drill and fix to the wall",
        WorkStage.INSTALL,
        Driver.SCREW_HOLE,
        "3",
    ),
    Work(
        "hang-point",
        "Set a hanging point",
        WorkStage.INSTALL,
        Driver.HANGING_POINT,
        "12",
    ),
    Work(
        "place-panel", "Set out and hang a panel", WorkStage.INSTALL, Driver.PANEL, "8"
    ),
    Work("saw-set-up", "Set up saw and bench", WorkStage.BUILD, Driver.JOB, "30"),
    Work("clear-up", "Protect and clear the room", WorkStage.INSTALL, Driver.JOB, "40"),
)


@transaction.atomic
def install_starter(
    *, at: dt.datetime, by: Person, units: UnitSystem = UnitSystem.METRIC
) -> list[BuildSpec]:
    """Add what is missing of the starter catalogue and the five builds; nothing twice.

    A material or an operation that the shop has under the same code stays as it is.
    """
    materials = {m.code: m for m in Material.objects.all()}
    for code, columns in _materials(units):
        if code not in materials:
            materials[code] = _stored(Material(code=code, created_at=at, **columns))
    operations = {o.code: o for o in Operation.objects.all()}
    for work in WORK:
        if work.code not in operations:
            operations[work.code] = _stored(_operation(work, at))
    return create_five_builds(
        materials=materials, operations=operations, by=by, at=at, units=units
    )


def _stored(row: Any) -> Any:
    row.full_clean()
    row.save()
    return row


def _operation(work: Work, at: dt.datetime) -> Operation:
    return Operation(
        code=work.code,
        name=work.name,
        stage=work.stage,
        driver=work.driver,
        minutes=Decimal(work.minutes),
        hourly_rate=HOURLY_RATE,
        created_at=at,
    )


def _materials(units: UnitSystem) -> Iterator[tuple[str, dict[str, Any]]]:
    """Give code and columns of every starter material."""
    stocks = {stock.key: stock for stock in preset_stock(units)}
    for stock in stocks.values():
        yield stock.key, _columns(stock, units)
    for code, label, millimetres, inches, price in MORE_WOOL:
        ticks = _ticks(units, millimetres, inches)
        yield (
            code,
            _columns(stocks["wool"], units)
            | {
                "name": label[_place(units)],
                "thickness_ticks": ticks,
                "pack_price": Decimal(price),
            },
        )
    ply = _ticks(units, "18", "0.75")
    yield (
        "ply-thick",
        _columns(stocks["frame-ply"], units)
        | {
            "name": ("Plywood 18 mm", "Plywood 3/4 in")[_place(units)],
            "thickness_ticks": ply,
            "pack_price": Decimal("54.00"),
        },
    )
    for code, name, colour, price in MORE_FABRICS:
        yield (
            code,
            _columns(stocks["front-fabric"], units)
            | {
                "name": name,
                "colour": colour,
                "mass_g_m2": 70.0 if code == "thin-lining" else 300.0,
                "pack_price": Decimal(price) * 50,
            },
        )


MORE_WOOL = (
    (
        "wool-thin",
        ("Mineral wool board 50 mm", "Mineral wool board 2 in"),
        "50",
        "2",
        "36.00",
    ),
    (
        "wool-thick",
        ("Mineral wool board 100 mm", "Mineral wool board 4 in"),
        "100",
        "4",
        "68.00",
    ),
)
"""Code, labels, thickness and price of a pack."""


def _place(units: UnitSystem) -> int:
    return 0 if units is UnitSystem.METRIC else 1


def _ticks(units: UnitSystem, mm: str, inches: str) -> int:
    if units is UnitSystem.METRIC:
        return from_mm(Decimal(mm))
    return from_inches(Decimal(inches))


def _columns(stock: Stock, units: UnitSystem) -> dict[str, Any]:
    """Turn the facts of a stock into columns; what is not known stays empty."""
    quantity, price = PACKS[stock.key]
    labels = NAMES.get(stock.key)
    return {
        "kind": stock.kind.value,
        "name": labels[_place(units)] if labels else stock.name,
        "thickness_ticks": stock.thickness_ticks or None,
        "width_ticks": stock.width_ticks or None,
        "length_ticks": stock.length_ticks or None,
        "density_kg_m3": stock.density_kg_m3 or None,
        "mass_g_m2": stock.mass_g_m2 or None,
        "mass_g_each": stock.mass_g_each or None,
        "selvedge_ticks": stock.selvedge_ticks or None,
        "unit": stock.unit,
        "directional": stock.directional,
        "colour": COLOURS.get(stock.key, ""),
        "pack_quantity": Decimal(quantity),
        "pack_price": Decimal(price),
    }
