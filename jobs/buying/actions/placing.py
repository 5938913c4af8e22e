"""Place an order: its paper is frozen and goes to the supplier."""

from __future__ import annotations

import datetime as dt
import uuid
from dataclasses import dataclass
from functools import partial

from django.db import transaction

from jobs.buying.actions.errors import CannotOrderError
from jobs.buying.documents import order_pdf
from jobs.buying.models import Order, OrderState
from jobs.buying.reports.orders import paper_of, seal_of
from shared.audit.actions import record
from shared.dates import show_day
from shared.files.actions import keep_written, write_bytes
from shared.outbox.actions import Letter, post
from shared.outbox.tasks import send_message
from shop.people.models import Person
from shop.people.reports import profile


@dataclass(frozen=True, slots=True)
class Cover:
    """The mail that an order goes with; no address where it is sent otherwise."""

    to: str = ""
    subject: str = ""
    body: str = ""


CHANGED = "The order was changed meanwhile: look at it once more, then place it."


def place_order(
    order: Order,
    cover: Cover,
    *,
    expected_on: dt.date,
    seen: str = "",
    by: Person,
    at: dt.datetime,
) -> Order:
    """Freeze the paper, say when it comes, and put the mail in the outbox.

    The paper is printed outside any transaction. One short transaction then makes sure
    that the draft is still what was printed, and stores state, paper and message
    together: of two people who place the same draft, one does. `seen` is the seal of
    what the person looked at.
    """
    shop = profile()
    paper = paper_of(order, wanted_on=expected_on, shop=shop)
    seal = seal_of(paper)
    if seen and seen != seal:
        raise CannotOrderError(CHANGED)
    _check(paper.order, lines=len(paper.lines))
    pdf = order_pdf(paper, shop=shop, on=at)
    path, digest = write_bytes(pdf)
    with transaction.atomic():
        locked: Order = Order.objects.select_for_update().get(pk=order.pk)
        now = paper_of(locked, wanted_on=expected_on, shop=shop)
        _check(locked, lines=len(now.lines))
        if seal_of(now) != seal:
            raise CannotOrderError(CHANGED)
        locked.pdf = keep_written(
            path,
            digest=digest,
            size=len(pdf),
            name=f"order-{locked.number}.pdf",
            content_type="application/pdf",
        )
        locked.state, locked.expected_on = OrderState.PLACED, expected_on
        locked.placed_at, locked.placed_by = at, by
        locked.save()
        how = f"to {cover.to}" if cover.to else "sent otherwise than by mail"
        text = f"Placed, {how}; expected on {show_day(expected_on)}."
        record(locked, verb="placed", text=text, by=by, at=at)
        if cover.to:
            _post(locked, cover, reply_to=shop.email, by=by, at=at)
    return locked


def _check(order: Order, *, lines: int) -> None:
    if not order.is_draft:
        raise CannotOrderError(
            f"Order {order.number} is {order.get_state_display()} already."
        )
    if not lines:
        raise CannotOrderError("There is nothing on the order yet.")


def _post(
    order: Order, cover: Cover, *, reply_to: str, by: Person, at: dt.datetime
) -> uuid.UUID:
    """Store the mail with the frozen paper; the worker sends it once all is committed."""
    letter = Letter(
        to=cover.to,
        subject=cover.subject,
        body=cover.body,
        reply_to=reply_to,
        attachment=order.pdf,
    )
    message = post(letter, about=order, by=by, at=at)
    transaction.on_commit(partial(send_message.enqueue, str(message.pk)))
    key: uuid.UUID = message.pk
    return key


@transaction.atomic
def send_paper(order: Order, cover: Cover, *, by: Person, at: dt.datetime) -> None:
    """Send the frozen paper by mail, once more or for the first time."""
    locked: Order = Order.objects.select_for_update().get(pk=order.pk)
    if not locked.is_placed or locked.pdf is None:
        raise CannotOrderError(
            f"Order {locked.number} is {locked.get_state_display()}: it is not sent."
        )
    _post(locked, cover, reply_to=profile().email, by=by, at=at)
    record(locked, verb="sent", text=f"Sent to {cover.to}.", by=by, at=at)


@transaction.atomic
def expect_on(order: Order, day: dt.date, *, by: Person, at: dt.datetime) -> None:
    """Say anew when an order comes."""
    locked: Order = Order.objects.select_for_update().get(pk=order.pk)
    if not locked.is_placed:
        raise CannotOrderError(
            f"Order {locked.number} is {locked.get_state_display()} by now."
        )
    locked.expected_on = day
    locked.save(update_fields=("expected_on",))
    text = f"Expected on {show_day(day)}."
    record(locked, verb="expected", text=text, by=by, at=at)
