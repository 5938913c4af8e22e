"""Deliveries: book in, take back, take a price over."""

from __future__ import annotations

import uuid

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from jobs.buying.actions.deliveries import receive, take_back, take_price
from jobs.buying.actions.errors import CannotOrderError
from jobs.buying.forms import DeliveryForm
from jobs.buying.models import Delivery, DeliveryLine, Order
from jobs.buying.views.common import GET_POST, done_with, get_order
from shared.access import Right, needs
from shared.notices import say
from shop.people.me import me


@require_http_methods(GET_POST)
@needs(Right.KEEP_STORES)
def new_delivery(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Ask what came, and book it in."""
    order = get_order(pk)
    lines = list(order.lines.with_material())
    if request.method == "POST":
        return _receive(request, order, DeliveryForm(request.POST, lines=lines))
    if not order.is_placed:
        say(request, f"{order.number} is {order.get_state_display()}.")
        return redirect(order)
    return _show(
        request, order, DeliveryForm(lines=lines, initial={"key": uuid.uuid4()})
    )


def _show(request: HttpRequest, order: Order, form: DeliveryForm) -> HttpResponse:
    context = {"order": order, "form": form}
    return render(request, "jobs/buying/delivery.html", context, status=form.status)


def _receive(request: HttpRequest, order: Order, form: DeliveryForm) -> HttpResponse:
    if not form.is_valid():
        return _show(request, order, form)
    try:
        received = receive(
            order,
            form.came(),
            key=form.delivery_key(),
            note_number=form.cleaned_data["note_number"],
            by=me(request),
            at=timezone.now(),
        )
    except CannotOrderError as refused:
        form.add_error(None, refused.message)
        return _show(request, order, form)
    undo = reverse("jobs:delivery-undo", args=(received.delivery.pk,))
    told = " ".join(("Booked into the stores.", *received.told))
    say(request, told, undo=undo)
    return redirect(order)


@require_POST
@needs(Right.KEEP_STORES)
def undo(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take a delivery out of the stores again."""
    delivery = get_object_or_404(Delivery, pk=pk)

    def act() -> None:
        take_back(delivery, by=me(request), at=timezone.now())

    order = get_order(delivery.order_id)
    return done_with(request, order, act, "The delivery is taken back.")


@require_POST
@needs(Right.KEEP_STORES)
def accept_price(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take the price of a delivery note over."""
    each = get_object_or_404(
        DeliveryLine.objects.select_related(
            "delivery", "line__material", "line__order"
        ),
        pk=pk,
    )

    def act() -> None:
        take_price(each, by=me(request), at=timezone.now())

    text = f"{each.line.name} costs that from now on; quotes that are out keep theirs."
    return done_with(request, get_order(each.line.order_id), act, text)
