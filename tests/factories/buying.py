"""Needs, orders and their lines, as small as they may be."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from itertools import count
from typing import Any

from jobs.board.models import Job
from jobs.buying.models import JobNeed, Order, OrderLine, OrderState
from shop.catalogue.models import Material, Supplier
from tests.factories.jobs import AT

_numbers = count(1)


def make_need(*, job: Job, material: Material, quantity: Any = 5) -> JobNeed:
    """A job takes so much of a material in all."""
    return JobNeed.objects.create(
        job=job, material=material, quantity=Decimal(quantity), how="counted", at=AT
    )


def make_order(*, supplier: Supplier, placed: bool = False, **fields: Any) -> Order:
    """A draft, or an order that is expected a week later."""
    usual: dict[str, Any] = {"number": f"B2026-9{next(_numbers):03d}"}
    if placed:
        usual |= {
            "state": OrderState.PLACED,
            "placed_at": AT,
            "expected_on": AT.date() + dt.timedelta(days=7),
        }
    return Order.objects.create(supplier=supplier, **usual | fields)


def make_order_line(
    *, order: Order, material: Material, packs: Any = 2, **fields: Any
) -> OrderLine:
    """Some packs of a material at its price."""
    usual = {
        "name": material.name,
        "packs": Decimal(packs),
        "pack_quantity": material.pack_quantity,
        "quantity": Decimal(packs) * material.pack_quantity,
        "pack_price": material.pack_price,
    }
    return OrderLine.objects.create(order=order, material=material, **usual | fields)
