"""What the invented shop buys, how it works, and how it makes its prices."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal

from jobs.demo.people import Cast
from quotes.pricing.models import (
    LineKind,
    OverheadBasis,
    PriceRules,
    ProfitBasis,
    TaxRate,
)
from quotes.specs.starter import install_starter
from shop.catalogue import actions
from shop.catalogue.models import Material, Operation, Supplier

# Figures that stand nowhere else: a test looks for them on every page of those who are to
# see no cost, and finds them on the owner's.
PLYWOOD_PACK_PRICE = Decimal("48.07")
HOURLY_RATE = Decimal("47.13")
MARGIN_PERCENT = Decimal("31.7")
OVERHEAD_PERCENT = Decimal("12.9")

SUPPLIERS = (
    ("Thimbleford Timber Yard", "yard@timber.example.org", "01632 960 110", 2),
    ("Weftwick Cloth", "orders@weftwick.example.org", "01632 960 111", 10),
    ("Hasp & Hinge", "desk@hasp.example.org", "01632 960 112", 4),
)
"""Invented name, address, telephone and days until it comes."""

SUPPLIER_OF_KIND = {
    "sheet": SUPPLIERS[0][0],
    "board": SUPPLIERS[0][0],
    "fill": SUPPLIERS[0][0],
    "fabric": SUPPLIERS[1][0],
    "hardware": SUPPLIERS[2][0],
    "consumable": SUPPLIERS[2][0],
}


def fill_stores(cast: Cast, at: dt.datetime) -> None:
    """Put in the starter catalogue and the five builds, with this shop's own prices."""
    install_starter(at=at, by=cast.owner)
    actions.install_finishes(at=at)
    suppliers = {
        name: actions.add(
            Supplier(name=name, email=email, phone=phone, lead_days=days),
            by=cast.office,
            at=at,
        )
        for name, email, phone, days in SUPPLIERS
    }
    for material in Material.objects.all():
        material.supplier = suppliers[SUPPLIER_OF_KIND[material.kind]]
        if material.code == "frame-ply":
            material.pack_quantity, material.pack_price = (
                Decimal(1),
                PLYWOOD_PACK_PRICE,
            )
        actions.change(material, by=cast.office, at=at)
    for operation in Operation.objects.all():
        operation.hourly_rate = HOURLY_RATE
        actions.change(operation, by=cast.owner, at=at)


def set_prices() -> None:
    """Set the shop's price rules and taxes."""
    rules = PriceRules(
        minimum_charge=Decimal(180),
        travel_rate_per_km=Decimal("0.62"),
        travel_hourly_rate=HOURLY_RATE,
        trips=2,
        crew=2,
        overhead_basis=OverheadBasis.COST,
        overhead_percent=OVERHEAD_PERCENT,
        allowance_percent=Decimal(10),
        profit_basis=ProfitBasis.MARGIN,
        profit_percent=MARGIN_PERCENT,
        deposit_percent=Decimal(50),
        tax_name="VAT",
    )
    rates = [TaxRate(line_kind=kind, percent=Decimal(20)) for kind in LineKind]
    for row in (rules, *rates):
        row.full_clean()
        row.save()
