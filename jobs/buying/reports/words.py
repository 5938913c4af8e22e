"""Amounts, packs and days in words, the same on pages and papers."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal

from shared.conventions import current
from shared.dates import show_day
from shared.money import round_money, show_number
from shop.catalogue.models import Material, MaterialKind
from shop.catalogue.reports.stock import quantity_text

ONE = Decimal(1)


def number(value: Decimal) -> str:
    """Print a count with as many decimals as it has, up to three."""
    return show_number(value, locale=current().locale, decimals=3)


def packs_text(material: Material, packs: Decimal, pack_quantity: Decimal) -> str:
    """Say how many packs of what: 2 rolls of 50 m, 3 packs of 100 pieces, 7.3 m."""
    if pack_quantity == ONE:
        return quantity_text(material, packs)
    each = "roll" if material.kind == MaterialKind.FABRIC else "pack"
    many = each if packs == ONE else f"{each}s"
    return f"{number(packs)} {many} of {quantity_text(material, pack_quantity)}"


def money_of(packs: Decimal, price: Decimal | None) -> Decimal | None:
    """Price so many packs, rounded once; nothing without a price."""
    return None if price is None else round_money(packs * price, current().currency)


def day_text(day: dt.date | None) -> str:
    """Write a day; say so where there is none."""
    return show_day(day, "short") if day else "no day yet"


def days_text(count: int) -> str:
    """Say a number of days."""
    return "1 day" if count == 1 else f"{count} days"
