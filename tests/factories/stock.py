"""Something in the stores: made by the actions, so that ledger and level agree."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal

from shared.forms import TypedLength
from shop.catalogue import actions
from shop.catalogue.models import Material, StockMove, StockPiece, StockReason
from shop.people.models import Person
from tests.factories.catalogue import mm

AT = dt.datetime(2026, 3, 2, 9, 0, tzinfo=dt.UTC)


def make_move(
    material: Material, quantity: str | int, *, by: Person, lot: str = "", why: str = ""
) -> StockMove:
    """So much came, or went where it is less than nothing."""
    amount = Decimal(quantity)
    usual = StockReason.DELIVERED if amount > 0 else StockReason.USED
    return actions.move_stock(material, amount, why or usual, lot=lot, by=by, at=AT)


def make_piece(
    material: Material, length: int = 900, width: int = 400, *, by: Person, **more: str
) -> StockPiece:
    """A kept piece, sized in millimetres."""
    return actions.keep_piece(
        material,
        length=TypedLength(mm(length), str(length)),
        width=TypedLength(mm(width), str(width)),
        by=by,
        at=AT,
        **more,
    )
