"""What lies in the stores: count it, book in, take out, and take moves back."""

from __future__ import annotations

import uuid
from decimal import Decimal

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from shared.access import Right, may, needs
from shared.htmx import done
from shared.notices import say
from shop.catalogue import actions
from shop.catalogue.actions import StockError
from shop.catalogue.forms.stock import BookForm, CountForm, MoveForm, TakeForm
from shop.catalogue.models import Material, StockMove, StockReason
from shop.catalogue.reports.stock import below_nothing, levels_of, quantity_text
from shop.catalogue.views.common import GET_POST, SEES_STOCK
from shop.people.me import me

QUICK = ("1", "2", "3", "4", "5", "10")


def _material(pk: uuid.UUID) -> Material:
    found: Material = get_object_or_404(Material, pk=pk)
    return found


def _first(levels: dict[str, Decimal], request: HttpRequest) -> dict[str, str]:
    """Begin with the dye lot asked for, or with the only one that is there."""
    there = [lot for lot, left in levels.items() if left > 0]
    only = there[0] if len(there) == 1 else ""
    asked = request.GET.get("lot", only)
    return {"lot": asked if asked in levels else only}


@needs(*SEES_STOCK)
@require_http_methods(GET_POST)
def stock_out(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take some out; it may leave less than nothing, which is said."""
    material = _material(pk)
    levels = levels_of(material)
    form = TakeForm(
        _typed(request),
        material=material,
        levels=levels,
        initial=_first(levels, request),
    )
    if request.method == "POST" and form.is_valid():
        kept = form.cleaned_data
        taken: Decimal = kept["quantity"]
        return _move(request, form, -taken, StockReason.USED, verb="taken out")
    return _page(request, form, title=f"Take out {material}", button="Take out")


@needs(Right.KEEP_STORES)
@require_http_methods(GET_POST)
def stock_in(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Book in what came, or what was put back."""
    material = _material(pk)
    levels = levels_of(material)
    form = BookForm(_typed(request), material=material, levels=levels)
    if request.method == "POST" and form.is_valid():
        kept = form.cleaned_data
        return _move(request, form, kept["quantity"], kept["why"], verb="booked in")
    return _page(request, form, title=f"Book in {material}", button="Book in")


def _typed(request: HttpRequest) -> QueryDict | None:
    """Return what was typed, or the number that was pressed instead."""
    if request.method != "POST":
        return None
    typed = request.POST.copy()
    if "few" in typed:
        typed["quantity"] = str(typed["few"])
    return typed


def _move(
    request: HttpRequest, form: MoveForm, quantity: Decimal, why: str, *, verb: str
) -> HttpResponse:
    """Move stock as a form says, and say so with a way back."""
    kept = form.cleaned_data
    try:
        move = actions.move_stock(
            form.material,
            quantity,
            why,
            lot=form.lot,
            note=kept["note"],
            unit_cost=kept.get("unit_cost"),
            by=me(request),
            at=timezone.now(),
        )
    except StockError as refused:
        form.add_error("quantity", refused.message)
        return _page(request, form, title=str(form.material), button="Try again")
    text = f"{_amount(move)} {verb}."
    return _said(request, form.material, text, undo=_undo(move))


def _amount(move: StockMove) -> str:
    amount = quantity_text(move.material, abs(move.quantity))
    lot = f", dye lot {move.lot}" if move.lot else ""
    return f"{move.material}{lot}: {amount}"


def _undo(move: StockMove) -> str:
    return reverse("shop:stock-undo", args=(move.pk,))


def _said(
    request: HttpRequest, material: Material, text: str, *, undo: str = ""
) -> HttpResponse:
    """Say what was done, and that a level stands below nothing if one does."""
    say(request, text, undo=undo)
    warning = below_nothing(material)
    if warning:
        messages.warning(request, warning)
    return done(request, material.get_absolute_url())


@needs(*SEES_STOCK)
@require_http_methods(GET_POST)
def stock_count(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Set what is there to what was counted."""
    material = _material(pk)
    levels = levels_of(material)
    form = CountForm(
        _typed(request),
        material=material,
        levels=levels,
        initial=_first(levels, request),
    )
    if request.method == "POST" and form.is_valid():
        return _counted(request, form)
    return _page(request, form, title=f"Count {material}", button="Counted")


def _counted(request: HttpRequest, form: CountForm) -> HttpResponse:
    kept = form.cleaned_data
    count = actions.Counted(form.material, kept["quantity"], form.lot, form.now)
    try:
        moves = actions.take_stock(
            [count], note=kept["note"], by=me(request), at=timezone.now()
        )
    except StockError as refused:
        form.add_error("quantity", refused.message)
        return _page(request, form, title=f"Count {form.material}", button="Counted")
    there = quantity_text(form.material, kept["quantity"])
    if not moves:
        return _said(request, form.material, f"Counted: {there}, as it should be.")
    text = f"Counted: {there}. It should have been {form.should}."
    return _said(request, form.material, text, undo=_undo(moves[0]))


def _page(
    request: HttpRequest, form: MoveForm, *, title: str, button: str
) -> HttpResponse:
    context = {
        "form": form,
        "material": form.material,
        "title": title,
        "button": button,
        "warning": below_nothing(form.material),
        "quick": QUICK if isinstance(form, TakeForm) and form.is_whole else (),
    }
    return render(
        request, "shop/catalogue/stock_form.html", context, status=form.status
    )


@needs(*SEES_STOCK)
@require_POST
def stock_undo(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take a move back: whoever keeps the stores any, others their own."""
    move = get_object_or_404(StockMove.objects.with_material(), pk=pk)
    if move.by_id != request.user.pk and not may(request.user, Right.KEEP_STORES):
        raise PermissionDenied("somebody else's move")
    try:
        counter = actions.undo_move(move, by=me(request), at=timezone.now())
    except StockError as refused:
        messages.error(request, refused.message)
        return done(request, move.material.get_absolute_url())
    return _said(request, move.material, f"Taken back: {_amount(counter)}.")
