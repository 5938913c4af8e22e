"""Move what lies in the stores: a row in the ledger, and the level beside it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import TypedDict, Unpack

from django.core.exceptions import ValidationError
from django.db import transaction

from shared.audit.actions import record
from shop.catalogue.actions.errors import StockError
from shop.catalogue.models import Material, StockLevel, StockMove, StockReason
from shop.people.models import Person

FINEST = Decimal("0.001")
MOST = Decimal(999_999_999)
IS_UNDO = "This takes something back already. Book what really came or went."
UNDONE = "This was taken back already, by {who}."
MOVED_MEANWHILE = "Somebody moved some of {material} meanwhile. Count it again."
COUNTED_SINCE = (
    "It was counted after this, and the count stands. If it is wrong, count it again."
)


class More(TypedDict, total=False):
    """What else may be known of a move."""

    lot: str
    note: str
    unit_cost: Decimal | None


@transaction.atomic
def move_stock(
    material: Material,
    quantity: Decimal,
    why: str,
    *,
    by: Person,
    at: dt.datetime,
    **more: Unpack[More],
) -> StockMove:
    """Write down that so much came, or went where it is less than nothing.

    ``quantity`` is in the material's own count, kept to three decimals. A level may fall
    below nothing: what was used was there, so something was not written down before.
    """
    level = _hold(material, more.get("lot", ""))
    move = StockMove(
        material=material,
        lot=level.lot,
        quantity=quantity,
        why=why,
        note=more.get("note", ""),
        unit_cost=more.get("unit_cost"),
        at=at,
        by=by,
    )
    return _append(move, level)


@transaction.atomic
def undo_move(move: StockMove, *, by: Person, at: dt.datetime) -> StockMove:
    """Take a move back once, by a move that names it.

    Refused after a count of the same material and lot: the count saw what was there.
    """
    level = _hold(move.material, move.lot)
    if move.undoes_id:
        raise StockError(IS_UNDO)
    before = StockMove.objects.undoing(move)
    if before:
        raise StockError(UNDONE.format(who=before.by))
    if StockMove.objects.counts_after(move).exists():
        raise StockError(COUNTED_SINCE)
    counter = StockMove(
        material=move.material,
        lot=move.lot,
        quantity=-move.quantity,
        why=move.why,
        note=move.note,
        unit_cost=move.unit_cost,
        undoes=move,
        at=at,
        by=by,
    )
    return _append(counter, level)


@dataclass(frozen=True, slots=True)
class Counted:
    """What somebody counted of a material and dye lot; ``seen``: what they were shown."""

    material: Material
    quantity: Decimal
    lot: str = ""
    seen: Decimal | None = None


@transaction.atomic
def count_stock(
    material: Material,
    counted: Decimal,
    *,
    lot: str = "",
    note: str,
    by: Person,
    at: dt.datetime,
) -> StockMove | None:
    """Set a level to what was counted; nothing is moved when it is so already."""
    found = Counted(material, counted, lot)
    return next(iter(take_stock([found], note=note, by=by, at=at)), None)


@transaction.atomic
def take_stock(
    counts: Iterable[Counted], *, note: str, by: Person, at: dt.datetime
) -> tuple[StockMove, ...]:
    """Set levels to what was counted, all or none, with one reason for what differs.

    Refused where a level is no longer as its counter was shown: the count may be of before.
    """
    # always in the same order, so that two people never wait for each other
    in_order = sorted(counts, key=lambda c: (str(c.material.pk), c.lot))
    moves = (_correct(counted, note=note, by=by, at=at) for counted in in_order)
    return tuple(move for move in moves if move)


def _correct(
    counted: Counted, *, note: str, by: Person, at: dt.datetime
) -> StockMove | None:
    level = _hold(counted.material, counted.lot)
    if counted.seen is not None and counted.seen != level.quantity:
        raise StockError(MOVED_MEANWHILE.format(material=counted.material))
    difference = _rounded(counted.quantity) - level.quantity
    if not difference:
        return None
    move = StockMove(
        material=counted.material,
        lot=level.lot,
        quantity=difference,
        why=StockReason.COUNTED,
        note=note,
        at=at,
        by=by,
    )
    return _append(move, level)


def _hold(material: Material, lot: str) -> StockLevel:
    """Hold a level until the transaction ends, so that one move follows the other.

    Made first where there is none: two that make it at once hold the same one.
    """
    lot = " ".join(lot.split())
    StockLevel.objects.get_or_create(material=material, lot=lot)
    level: StockLevel = StockLevel.objects.select_for_update().get(
        material=material, lot=lot
    )
    return level


def _rounded(quantity: Decimal) -> Decimal:
    return quantity.quantize(FINEST, rounding=ROUND_HALF_UP)


def _append(move: StockMove, level: StockLevel) -> StockMove:
    """Store a move and the level that it makes."""
    if not -MOST <= move.quantity <= MOST:
        raise StockError("That is more than any stores hold.")
    move.quantity = _rounded(move.quantity)
    level.quantity += move.quantity
    if not -MOST <= level.quantity <= MOST:
        raise StockError("That is more than any stores hold.")
    try:
        move.full_clean(exclude=("material", "by", "undoes"))
    except ValidationError as refused:
        raise StockError(" ".join(refused.messages)) from refused
    move.save()
    level.save(update_fields=("quantity",))
    text = f"{move.quantity.normalize():+f} {move.get_why_display()}"
    verb = "undo" if move.undoes_id else "move"
    record(level, verb=verb, text=text, by=move.by, at=move.at)
    return move
