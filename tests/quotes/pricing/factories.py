"""Small valid input for the pricing engine; each test changes what it is about."""

from decimal import Decimal
from typing import Any

from quotes.pricing.engine import (
    DistanceUnit,
    Extra,
    JobDemand,
    MaterialKind,
    MaterialUse,
    PanelDemand,
    Piece,
    PriceRequest,
    PriceRules,
    Profit,
    ProfitKind,
    Stage,
    TaxRate,
    Travel,
    Work,
)

D = Decimal


def rules(**changes: Any) -> PriceRules:
    """Euros, sold at cost, no tax."""
    plain: dict[str, Any] = {
        "currency": "EUR",
        "profit": Profit(ProfitKind.MARKUP, D(0)),
    }
    return PriceRules(**(plain | changes))


def vat(percent: str = "19", kind: str = "goods", label: str = "VAT") -> TaxRate:
    return TaxRate(kind, label, D(percent))


def sheet(**changes: Any) -> MaterialUse:
    """Two pieces of 1.0 by 0.1 m out of a sheet of 2 m² at 30.00."""
    plain: dict[str, Any] = {
        "kind": MaterialKind.SHEET,
        "code": "ply",
        "label": "Plywood",
        "pack_price": D(30),
        "pack_amount": D(2),
        "pieces": (Piece("Rails", D(2), D(1), D("0.1")),),
    }
    return MaterialUse(**(plain | changes))


def screws(**changes: Any) -> MaterialUse:
    """Ten screws out of a box of a hundred at 8.00."""
    plain: dict[str, Any] = {
        "kind": MaterialKind.HARDWARE,
        "code": "scr",
        "label": "Screws",
        "noun": "screws",
        "pack_price": D(8),
        "pack_amount": D(100),
        "count": D(10),
    }
    return MaterialUse(**(plain | changes))


def joints(**changes: Any) -> Work:
    """Four joints of 4.5 min at 48.00 an hour: 14.40."""
    plain: dict[str, Any] = {
        "code": "join",
        "label": "Corner joints",
        "stage": Stage.BUILD,
        "count": D(4),
        "noun": "joints",
        "minutes_each": D("4.5"),
        "hourly_rate": D(48),
    }
    return Work(**(plain | changes))


def panel(key: str = "a", **changes: Any) -> PanelDemand:
    """One panel of 3.00 of plywood and 14.40 of joints: 17.40 at cost."""
    plain: dict[str, Any] = {
        "key": key,
        "label": "Wall panel",
        "quantity": D(1),
        "materials": (sheet(),),
        "work": (joints(),),
    }
    return PanelDemand(**(plain | changes))


def extra(key: str = "x", price: str = "100", **changes: Any) -> Extra:
    plain: dict[str, Any] = {
        "key": key,
        "label": "Lamps moved",
        "quantity": D(1),
        "unit_price": D(price),
    }
    return Extra(**(plain | changes))


def travel(**changes: Any) -> Travel:
    """Two trips of 30 km at 0.50: 60.00."""
    plain: dict[str, Any] = {
        "distance": D(30),
        "unit": DistanceUnit.KILOMETRES,
        "cost_per_distance": D("0.5"),
        "trips": D(2),
    }
    return Travel(**(plain | changes))


def request(*lines: PanelDemand | Extra, **changes: Any) -> PriceRequest:
    """The lines under plain rules; no lines means one panel."""
    chosen = lines or (panel(),)
    plain: dict[str, Any] = {
        "rules": rules(),
        "panels": tuple(x for x in chosen if isinstance(x, PanelDemand)),
        "extras": tuple(x for x in chosen if isinstance(x, Extra)),
    }
    return PriceRequest(**(plain | changes))


def job(**changes: Any) -> JobDemand:
    return JobDemand(**({"work": (joints(label="Drawing", count=D(1)),)} | changes))
