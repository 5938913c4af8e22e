"""What lies in the invented shop's stores: deliveries, what was used, a few offcuts."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal

from jobs.demo.people import Cast
from shared.forms import TypedLength
from shared.length import TICKS_PER_MM
from shop.catalogue import actions
from shop.catalogue.models import Material, StockReason

DAY = dt.timedelta(days=1)

DELIVERED = (
    ("frame-ply", "24", ""),
    ("batten", "60", ""),
    ("foot-board", "8", ""),
    ("wool", "36", ""),
    ("front-fabric", "50", "H-204"),
    ("front-fabric", "18.5", "H-219"),
    ("harbour-moss", "22", "H-211"),
    ("kiln-brick", "16.4", "K-07"),
    ("back-cloth", "100", ""),
    ("edge-strip", "25", ""),
    ("wall-screw", "300", ""),
    ("eye-bolt", "40", ""),
    ("staple", "30000", ""),
    ("glue", "5000", ""),
)
"""Code, how much, and the dye lot on the label; all invented."""

USED = (
    ("frame-ply", "7", "", "cafe frames"),
    ("batten", "22", "", "cafe frames"),
    ("wool", "14", "", "music room"),
    ("front-fabric", "21.75", "H-204", "music room"),
    ("edge-strip", "25", "", "music room, the last of it"),
    ("wall-screw", "84", "", "music room"),
)
"""What was taken out since, and what for. The edge strip has run out."""

MISCOUNTED = ("batten", "36", "two were split")

OFFCUTS = (
    ("frame-ply", "1220", "455", "", "rack by the saw"),
    ("frame-ply", "905", "610", "", "rack by the saw"),
    ("frame-ply", "640", "298", "", ""),
    ("front-fabric", "1350", "760", "H-204", "top shelf, a pulled thread at one end"),
    ("wool", "600", "420", "", ""),
)
"""Code, length and width in millimetres, dye lot, and where the piece stands."""


def lay_in(cast: Cast, at: dt.datetime) -> None:
    """Book in what came, take out what was used, count once, and keep some offcuts."""
    stores = {material.code: material for material in Material.objects.all()}
    for code, quantity, lot in DELIVERED:
        actions.move_stock(
            stores[code],
            Decimal(quantity),
            StockReason.DELIVERED,
            lot=lot,
            by=cast.office,
            at=at - 40 * DAY,
        )
    for code, quantity, lot, note in USED:
        actions.move_stock(
            stores[code],
            -Decimal(quantity),
            StockReason.USED,
            lot=lot,
            note=note,
            by=cast.maker,
            at=at - 12 * DAY,
        )
    code, counted, why = MISCOUNTED
    actions.count_stock(
        stores[code], Decimal(counted), note=why, by=cast.maker, at=at - 3 * DAY
    )
    for code, length, width, lot, note in OFFCUTS:
        actions.keep_piece(
            stores[code],
            length=_typed(length),
            width=_typed(width),
            lot=lot,
            note=note,
            by=cast.maker,
            at=at - 10 * DAY,
        )


def _typed(mm: str) -> TypedLength:
    return TypedLength(int(mm) * TICKS_PER_MM, mm)
