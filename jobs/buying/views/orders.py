"""Orders: list, page, draft, calling off."""

from __future__ import annotations

import uuid
from decimal import Decimal, InvalidOperation
from typing import Any
from urllib.parse import urlencode

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from jobs.buying.actions import drafts
from jobs.buying.actions.errors import CannotOrderError
from jobs.buying.forms import AddLineForm, DraftForm, ExpectForm, NewOrderForm
from jobs.buying.models import Order, OrderLine, OrderState
from jobs.buying.reports.orders import order_page
from jobs.buying.views.common import GET_POST, done_with, get_order
from shared.access import Right, needs
from shared.conventions import today
from shared.htmx import page_or_fragment
from shared.lists import cut, words
from shared.notices import say
from shop.catalogue.models import Material
from shop.people.me import me


@require_GET
@needs(Right.KEEP_STORES)
def list_orders(request: HttpRequest) -> HttpResponse:
    """List orders: drafts, what is to come, then the rest."""
    return _orders(request, NewOrderForm())


def _orders(request: HttpRequest, form: NewOrderForm) -> HttpResponse:
    state = request.GET.get("state", "")
    state = state if state in OrderState.values else ""
    found = Order.objects.matching(words(request)).in_state(state)
    context = {
        "listed": cut(request, found.with_supplier().open_first(), "q", "state"),
        "words": words(request),
        "state": state,
        "states": OrderState.choices,
        "today": today(timezone.now()),
        "form": form,
    }
    return page_or_fragment(
        request,
        page="jobs/buying/orders.html",
        fragment="jobs/buying/_orders.html",
        context=context,
        status=form.status,
    )


@require_POST
@needs(Right.KEEP_STORES)
def new_order(request: HttpRequest) -> HttpResponse:
    """Begin an order by hand."""
    form = NewOrderForm(request.POST)
    if not form.is_valid():
        return _orders(request, form)
    order = drafts.start_order(
        form.cleaned_data["supplier"], by=me(request), at=timezone.now()
    )
    say(request, f"{order.number} is begun: put on it what you order.")
    return redirect(order)


@require_http_methods(GET_POST)
@needs(Right.KEEP_STORES)
def show_order(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show an order; take what is changed of a draft."""
    order = get_order(pk)
    if request.method == "POST" and not order.is_draft:
        say(request, f"{order.number} is {order.get_state_display()}: it stays so.")
        return redirect(order)
    if request.method == "POST":
        return _change(request, order)
    return show(request, order)


def show(request: HttpRequest, order: Order, **forms: Any) -> HttpResponse:
    """Show an order's page, with a form as it was typed if one was refused."""
    page = order_page(order)
    lines = [shown.line for shown in page.lines]
    expected = {"expected_on": order.expected_on}
    context: dict[str, Any] = {
        "order": order,
        "page": page,
        "today": today(timezone.now()),
        "form": DraftForm(order=order, lines=lines),
        "add_form": AddLineForm(supplier=order.supplier),
        "expect_form": ExpectForm(initial=expected),
    }
    status = max((form.status for form in forms.values()), default=200)
    return render(request, "jobs/buying/order.html", context | forms, status=status)


def _change(request: HttpRequest, order: Order) -> HttpResponse:
    lines = list(order.lines.with_material())
    form = DraftForm(request.POST, order=order, lines=lines)
    if not form.is_valid():
        return show(request, order, form=form)

    def store() -> None:
        drafts.change_draft(
            order,
            tuple(form.changes()),
            note=form.cleaned_data["note"],
            by=me(request),
            at=timezone.now(),
        )

    return done_with(request, order, store, "Stored.")


@require_POST
@needs(Right.KEEP_STORES)
def add(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put a material on a draft."""
    order = get_order(pk)
    form = AddLineForm(request.POST, supplier=order.supplier)
    if not form.is_valid():
        return show(request, order, add_form=form)
    material, packs = form.cleaned_data["material"], form.cleaned_data["packs"]

    def put() -> None:
        drafts.add_line(order, material, packs, by=me(request), at=timezone.now())

    return done_with(request, order, put, f"{material.name} is on it.")


@require_POST
@needs(Right.KEEP_STORES)
def drop(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take a line off a draft; one tap puts it back."""
    line = get_object_or_404(OrderLine.objects.select_related("order"), pk=pk)
    order = get_order(line.order_id)
    try:
        drafts.drop_line(line, by=me(request), at=timezone.now())
    except CannotOrderError as refused:
        say(request, refused.message)
        return redirect(order)
    was = {"material": line.material_id, "packs": line.packs, "lot": line.lot}
    back = reverse("jobs:order-line-again", args=(order.pk,))
    say(request, f"{line.name} is off the order.", undo=f"{back}?{urlencode(was)}")
    return redirect(order)


@require_POST
@needs(Right.KEEP_STORES)
def put_back(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put a line back that was taken off; the address says which it was."""
    order = get_order(pk)
    try:
        key = uuid.UUID(request.GET.get("material", ""))
        packs = Decimal(request.GET.get("packs", ""))
    except (ValueError, InvalidOperation):
        raise Http404 from None
    if not packs.is_finite() or not 0 < packs < 100_000:
        raise Http404
    material = get_object_or_404(Material, pk=key)
    lot = "".join(c for c in request.GET.get("lot", "") if c.isprintable())[:40]

    def put() -> None:
        drafts.add_line(
            order, material, packs, lot=lot, by=me(request), at=timezone.now()
        )

    return done_with(request, order, put, f"{material.name} is on it again.")


@require_POST
@needs(Right.KEEP_STORES)
def call_off(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Call an order off; one tap takes it up again."""
    order = get_order(pk)
    text = f"{order.number} is called off."
    if order.is_placed:
        text += " The supplier only knows if you tell them."

    def act() -> None:
        drafts.give_up(order, by=me(request), at=timezone.now())

    return done_with(request, order, act, text, undo="jobs:order-again")


@require_POST
@needs(Right.KEEP_STORES)
def again(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take an order up again."""
    order = get_order(pk)

    def act() -> None:
        drafts.take_up(order, by=me(request), at=timezone.now())

    return done_with(request, order, act, f"{order.number} is taken up again.")


@require_POST
@needs(Right.KEEP_STORES)
def end(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Say that nothing more will come; one tap takes it back."""
    order = get_order(pk)

    def act() -> None:
        drafts.end_order(order, by=me(request), at=timezone.now())

    text = f"Nothing more is expected of {order.number}."
    return done_with(request, order, act, text, undo="jobs:order-again")
