"""Book in what came, take a booking back, take a new price over."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.db import transaction

from jobs.buying.actions.errors import CannotOrderError
from jobs.buying.models import (
    Delivery,
    DeliveryLine,
    Order,
    OrderLine,
    OrderState,
)
from jobs.buying.reports.orders import proposal_of
from shared.audit.actions import record
from shared.money import each_of
from shop.catalogue.actions.errors import StockError
from shop.catalogue.actions.prices import change_price
from shop.catalogue.actions.stock import move_stock, undo_move
from shop.catalogue.models import StockReason
from shop.catalogue.reports.stock import quantity_text
from shop.people.models import Person


@dataclass(frozen=True, slots=True)
class Came:
    """So much of a line came, of which dye lot, at which price of a pack."""

    line: uuid.UUID
    quantity: Decimal
    lot: str = ""
    pack_price: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Received:
    """What was booked in, and what is to be told of it."""

    delivery: Delivery
    told: tuple[str, ...] = ()


@transaction.atomic
def receive(
    order: Order,
    came: Sequence[Came],
    *,
    key: uuid.UUID,
    note_number: str = "",
    by: Person,
    at: dt.datetime,
) -> Received:
    """Book a delivery into the stores, all of it or nothing.

    `key` was made with the form: a second tap finds the delivery that the first one
    booked, and books nothing. More than was ordered is booked, and told.
    """
    locked: Order = Order.objects.select_for_update().get(pk=order.pk)
    before = Delivery.objects.filter(pk=key).first()
    if before is not None and before.order_id == locked.pk:
        return Received(before)
    if before is not None:
        raise CannotOrderError("This page is out of date: load it again.")
    if not locked.is_placed:
        raise CannotOrderError(
            f"Order {locked.number} is {locked.get_state_display()}: nothing more is"
            " expected of it."
        )
    delivery = Delivery.objects.create(
        pk=key, order=locked, note_number=note_number, at=at, by=by
    )
    lines = {line.pk: line for line in locked.lines.with_material()}
    told = [
        _book(delivery, lines[each.line], each, by=by, at=at)
        for each in came
        if each.line in lines
    ]
    if not told:
        raise CannotOrderError("Say how much came of at least one line.")
    if all(not line.outstanding for line in lines.values()):
        locked.state = OrderState.ARRIVED
        locked.save(update_fields=("state",))
    text = f"Delivered: {', '.join(lines[each.line].name for each in came)}."
    record(locked, verb="delivered", text=text, by=by, at=at)
    return Received(delivery, tuple(filter(None, told)))


def _book(
    delivery: Delivery, line: OrderLine, came: Came, *, by: Person, at: dt.datetime
) -> str:
    """Put one line into the stores; return what has to be told of it."""
    price = line.pack_price if came.pack_price is None else came.pack_price
    note = f"order {delivery.order.number}"
    if delivery.note_number:
        note += f", note {delivery.note_number}"
    try:
        move = move_stock(
            line.material,
            came.quantity,
            StockReason.DELIVERED,
            lot=came.lot,
            note=note[:200],
            unit_cost=None if price is None else each_of(price, line.pack_quantity),
            by=by,
            at=at,
        )
    except StockError as refused:
        raise CannotOrderError(str(refused)) from refused
    DeliveryLine.objects.create(
        delivery=delivery,
        line=line,
        quantity=came.quantity,
        move=move,
        pack_price=came.pack_price,
    )
    line.arrived += came.quantity
    line.save(update_fields=("arrived",))
    return _told(line, came)


def _told(line: OrderLine, came: Came) -> str:
    over = line.arrived - line.quantity
    if over > 0:
        much = quantity_text(line.material, over)
        return f"{line.name}: {much} more than ordered."
    if line.lot and came.lot != line.lot:
        return f"{line.name}: lot {came.lot or 'unknown'}, signed for was {line.lot}."
    return ""


@transaction.atomic
def take_back(delivery: Delivery, *, by: Person, at: dt.datetime) -> None:
    """Take a delivery out of the stores again, once."""
    order: Order = Order.objects.select_for_update().get(pk=delivery.order_id)
    held: Delivery = Delivery.objects.select_for_update().get(pk=delivery.pk)
    if held.undone_at is not None:
        raise CannotOrderError("That delivery was taken back already.")
    if order.state == OrderState.CALLED_OFF:
        raise CannotOrderError(f"Order {order.number} is called off.")
    for each in held.lines.select_related("line", "move__material"):
        try:
            undo_move(each.move, by=by, at=at)
        except StockError as refused:
            raise CannotOrderError(
                f"{each.line.name} can't be taken back. {refused}"
            ) from refused
        each.line.arrived = max(Decimal(0), each.line.arrived - each.quantity)
        each.line.save(update_fields=("arrived",))
    held.undone_at = at
    held.save(update_fields=("undone_at",))
    order.state = OrderState.PLACED
    order.save(update_fields=("state",))
    record(order, verb="delivered", text="Delivery taken back.", by=by, at=at)


@transaction.atomic
def take_price(each: DeliveryLine, *, by: Person, at: dt.datetime) -> None:
    """Take the price of a delivery note over as the material's own."""
    price = proposal_of(each)
    if price is None:
        raise CannotOrderError("The stores have that price already, or a newer one.")
    order = each.line.order
    note = f", note {each.delivery.note_number}" if each.delivery.note_number else ""
    source = f"order {order.number}{note}"
    try:
        change_price(
            each.line.material, price, each.line.pack_quantity, source, by=by, at=at
        )
    except StockError as refused:
        raise CannotOrderError(str(refused)) from refused
    text = f"Price of {each.line.name} taken over."
    record(order, verb="price", text=text, by=by, at=at)
