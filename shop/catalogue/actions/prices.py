"""Change what a material costs, and keep what it cost before."""

from __future__ import annotations

import datetime as dt
from copy import copy
from decimal import Decimal

from django.core.exceptions import ValidationError
from django.db import transaction

from shared.audit.actions import record
from shop.catalogue.actions.errors import StockError
from shop.catalogue.models import Material, PriceChange
from shop.people.models import Person


@transaction.atomic
def change_price(
    material: Material,
    price: Decimal | None,
    pack_quantity: Decimal,
    source: str,
    *,
    by: Person,
    at: dt.datetime,
) -> PriceChange | None:
    """Set the price of a pack, without tax, and what it holds; nothing if both are so.

    ``source`` says on whose word. Quotes that were sent keep what they froze.
    """
    stored = Material.objects.select_for_update().get(pk=material.pk)
    row = copy(stored)
    row.pack_price, row.pack_quantity = price, pack_quantity
    try:
        row.full_clean()
        changed = note_price(row, stored, source=source, by=by, at=at)
    except ValidationError as refused:
        raise StockError(" ".join(refused.messages)) from refused
    if changed:
        row.save(update_fields=("pack_price", "pack_quantity"))
        record(row, verb="price", text=f"Price changed: {source}", by=by, at=at)
    material.pack_price, material.pack_quantity = price, pack_quantity
    return changed


def note_price(
    material: Material,
    stored: Material | None,
    *,
    source: str,
    by: Person,
    at: dt.datetime,
) -> PriceChange | None:
    """Append to the history of prices if price or pack differ from what is stored.

    Call it inside the transaction that stores the material. Nothing is stored of a new
    one. A price that is first named is a change from none; none to none is no change.
    """
    change = price_change(material, stored, source=source, by=by, at=at)
    if change:
        change.save()
    return change


def price_change(
    material: Material,
    stored: Material | None,
    *,
    source: str,
    by: Person,
    at: dt.datetime,
) -> PriceChange | None:
    """Return what ``note_price`` appends, for whoever appends many at a time."""
    now, pack_now = material.pack_price, material.pack_quantity
    was = stored.pack_price if stored else None
    pack_was = stored.pack_quantity if stored else pack_now
    if was == now and (pack_was == pack_now or now is None):
        return None
    change = PriceChange(
        material=material,
        was=was,
        now=now,
        pack_was=pack_was,
        pack_now=pack_now,
        source=source,
        at=at,
        by=by,
    )
    change.clean_fields(exclude=("material", "by"))
    return change
