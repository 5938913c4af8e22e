"""What the views of orders share: fetch, do, say what became of it."""

from __future__ import annotations

import uuid
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse

from jobs.buying.actions.errors import CannotOrderError
from jobs.buying.models import Order
from shared.notices import say

GET_POST = ["GET", "HEAD", "POST"]


def get_order(pk: uuid.UUID) -> Order:
    """Return an order with what its heading shows, or 404."""
    found: Order = get_object_or_404(
        Order.objects.with_supplier().select_related("placed_by", "pdf"), pk=pk
    )
    return found


def done_with(
    request: HttpRequest,
    order: Order,
    act: Callable[[], object],
    text: str,
    *,
    undo: str = "",
) -> HttpResponse:
    """Do something about an order and say so, or say why it could not be done.

    undo: the name of the address that takes it back, with the order's id.
    """
    try:
        act()
    except CannotOrderError as refused:
        say(request, refused.message)
        return redirect(order)
    url = reverse(undo, args=(order.pk,)) if undo else ""
    say(request, text, undo=url)
    return redirect(order)
