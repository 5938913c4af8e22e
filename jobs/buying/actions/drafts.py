"""Write orders: drafts with their lines, which nobody but the shop has seen yet."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection
from decimal import Decimal

from django.db import transaction

from jobs.buying.actions.errors import CannotOrderError
from jobs.buying.models import Order, OrderLine, OrderState
from jobs.buying.reports.tobuy import BuyLine, to_buy
from shared.audit.actions import record
from shared.conventions import today
from shared.numbering import next_number
from shared.outbox.actions import withdraw
from shop.catalogue.models import Material, Supplier
from shop.people.models import Person

ZERO, FINEST = Decimal(0), Decimal("0.001")


@transaction.atomic
def write_orders(
    keys: Collection[str], *, by: Person, at: dt.datetime
) -> tuple[Order, ...]:
    """Put the chosen lines of “to buy” into a draft for each supplier.

    What to buy is worked out anew behind a lock: of two people who choose the same line
    one writes it, and the other finds it written. A supplier's open draft takes more.
    """
    list(Supplier.objects.select_for_update().order_by("pk").values_list("pk"))
    orders = []
    for group in to_buy(today=today(at)).suppliers:
        lines = [line for line in group.lines if line.key in keys and line.packs]
        if group.supplier is not None and lines:
            orders.append(_into_draft(group.supplier, lines, by=by, at=at))
    return tuple(orders)


def _into_draft(
    supplier: Supplier, lines: Collection[BuyLine], *, by: Person, at: dt.datetime
) -> Order:
    order = Order.objects.drafts().filter(supplier=supplier).first()
    order = order or start_order(supplier, by=by, at=at)
    for line in lines:
        how = f"{line.short_words} short for {', '.join(line.jobs)}"
        for material, pack in line.packs:
            _put(order, material, pack.count, lot=line.buy.lot, how=how)
    record(
        order,
        verb="written",
        text=f"{len(lines)} taken over from what is to buy.",
        by=by,
        at=at,
    )
    return order


@transaction.atomic
def start_order(supplier: Supplier, *, by: Person, at: dt.datetime) -> Order:
    """Begin an order with its number; one that is given up keeps it."""
    year = today(at).year
    number = f"B{year}-{next_number('order', year=year):03d}"
    order: Order = Order.objects.create(number=number, supplier=supplier)
    record(order, verb="made", text=f"Order {number} begun.", by=by, at=at)
    return order


def _put(
    order: Order, material: Material, packs: Decimal, *, lot: str, how: str
) -> OrderLine:
    """Add packs to an order's line of a material and lot, or make that line."""
    line = order.lines.filter(material=material, lot=lot).first()
    if line is None:
        line = OrderLine(order=order, material=material, lot=lot, packs=ZERO)
        line.name, line.supplier_code = material.name, material.supplier_code
        line.pack_quantity = material.pack_quantity
        line.pack_price, line.how = material.pack_price, how[:300]
    return _with_packs(line, line.packs + packs)


def _with_packs(line: OrderLine, packs: Decimal) -> OrderLine:
    line.packs = packs
    # what the column holds: two numbers of three decimals have six together
    line.quantity = (packs * line.pack_quantity).quantize(FINEST)
    line.full_clean(validate_unique=False)
    line.save()
    return line


def draft(order: Order) -> Order:
    """Lock an order that may still be changed, or say why it may not."""
    locked: Order = (
        Order.objects.select_for_update(of=("self",))
        .select_related("supplier")
        .get(pk=order.pk)
    )
    if not locked.is_draft:
        raise CannotOrderError(
            f"Order {locked.number} is {locked.get_state_display()} by now:"
            " it stays as it is."
        )
    return locked


@transaction.atomic
def add_line(
    order: Order,
    material: Material,
    packs: Decimal,
    *,
    lot: str = "",
    by: Person,
    at: dt.datetime,
) -> OrderLine:
    """Add packs of a material; more of one that is there already."""
    locked = draft(order)
    line = _put(locked, material, packs, lot=lot, how="added by hand")
    _changed(locked, f"{line.name} put on it.", by=by, at=at)
    return line


@transaction.atomic
def change_draft(
    order: Order,
    packs: Collection[tuple[OrderLine, Decimal]],
    *,
    note: str,
    by: Person,
    at: dt.datetime,
) -> None:
    """Order more or fewer packs of some lines, and tell the supplier something else."""
    locked = draft(order)
    for line, count in packs:
        _with_packs(_line(locked, line), count)
    changes = [f"{line.name}: {count.normalize():f}" for line, count in packs]
    if note != locked.note:
        locked.note = note
        locked.save(update_fields=("note",))
        changes.append("the note")
    if changes:
        _changed(locked, f"Changed: {', '.join(changes)}.", by=by, at=at)


@transaction.atomic
def drop_line(line: OrderLine, *, by: Person, at: dt.datetime) -> None:
    """Take a line off the draft."""
    locked = draft(line.order)
    held = _line(locked, line)
    held.delete()
    _changed(locked, f"{held.name} taken off.", by=by, at=at)


def _line(order: Order, line: OrderLine) -> OrderLine:
    held = order.lines.filter(pk=line.pk).first()
    if held is None:
        raise CannotOrderError("That line is no longer on the order.")
    return held


def _changed(order: Order, text: str, *, by: Person, at: dt.datetime) -> None:
    record(order, verb="changed", text=text, by=by, at=at)


@transaction.atomic
def give_up(order: Order, *, by: Person, at: dt.datetime) -> None:
    """Call an order off of which nothing has come; mail still waiting is kept back."""
    locked: Order = Order.objects.select_for_update().get(pk=order.pk)
    begun = locked.lines.filter(arrived__gt=0).exists()
    if locked.state not in (OrderState.DRAFT, OrderState.PLACED) or begun:
        raise CannotOrderError(
            f"Something of order {locked.number} has come already: say instead that"
            " nothing more will come."
            if begun
            else f"Order {locked.number} is {locked.get_state_display()} already."
        )
    withdraw(locked)
    _set_state(locked, OrderState.CALLED_OFF, "Called off.", by=by, at=at)


@transaction.atomic
def take_up(order: Order, *, by: Person, at: dt.datetime) -> None:
    """Take an order up again that was called off, or that was to bring nothing more."""
    locked: Order = Order.objects.select_for_update().get(pk=order.pk)
    left = locked.lines.not_all_here().exists()
    if locked.state == OrderState.CALLED_OFF:
        state = OrderState.PLACED if locked.placed_at else OrderState.DRAFT
    elif locked.state == OrderState.ARRIVED and left:
        state = OrderState.PLACED
    else:
        raise CannotOrderError(
            f"Order {locked.number} is {locked.get_state_display()} by now."
        )
    _set_state(locked, state, "Taken up again.", by=by, at=at)


@transaction.atomic
def end_order(order: Order, *, by: Person, at: dt.datetime) -> None:
    """Say that nothing more will come of a placed order."""
    locked: Order = Order.objects.select_for_update().get(pk=order.pk)
    if not locked.is_placed:
        raise CannotOrderError(
            f"Order {locked.number} is {locked.get_state_display()} by now."
        )
    _set_state(locked, OrderState.ARRIVED, "Nothing more will come.", by=by, at=at)


def _set_state(
    order: Order, state: OrderState, text: str, *, by: Person, at: dt.datetime
) -> None:
    order.state = state
    order.save(update_fields=("state",))
    record(order, verb="state", text=text, by=by, at=at)
