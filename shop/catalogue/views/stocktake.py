"""Walk along a shelf: one box for each thing, and one reason for what differs."""

from __future__ import annotations

from collections.abc import Sequence

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from shared import lists
from shared.access import needs
from shared.notices import say
from shop.catalogue import actions
from shop.catalogue.actions import StockError
from shop.catalogue.forms.stock import StocktakeForm
from shop.catalogue.models import Material, MaterialKind, StockMove
from shop.catalogue.reports.shelf import materials_typed, shelf
from shop.catalogue.views.common import GET_POST, SEES_STOCK
from shop.people.me import me


@needs(*SEES_STOCK)
@require_http_methods(GET_POST)
def stocktake(request: HttpRequest) -> HttpResponse:
    """Ask what is there of every material of a kind, and store what differs."""
    kind = request.GET.get("kind", "")
    if kind not in MaterialKind.values:
        kind = MaterialKind.SHEET
    if request.method == "POST":
        return _counted(request, kind)
    materials = Material.objects.shown("", kind=kind, aside=False)
    listed = lists.cut(request, materials, "kind")
    form = StocktakeForm(None, rows=shelf(listed.page))
    return _page(request, form, kind, listed)


def _counted(request: HttpRequest, kind: str) -> HttpResponse:
    """Store a page of counts, all or none, whatever was put aside meanwhile."""
    typed = list(request.POST)
    materials = Material.objects.by_ids(materials_typed(typed))
    form = StocktakeForm(request.POST, rows=shelf(materials, typed=typed))
    if form.is_valid():
        try:
            moves = actions.take_stock(
                form.counts(),
                note=form.cleaned_data["note"],
                by=me(request),
                at=timezone.now(),
            )
        except StockError as refused:
            form.add_error(None, refused.message)
        else:
            say(request, _text(len(form.counts()), moves))
            return redirect(f"{reverse('shop:stocktake')}?kind={kind}")
    return _page(request, form, kind, None)


def _text(counted: int, moves: Sequence[StockMove]) -> str:
    if not counted:
        return "Nothing was typed, so nothing was counted."
    things = f"{counted} thing{'' if counted == 1 else 's'} counted"
    if not moves:
        return f"{things}: all as they should be."
    names = ", ".join(dict.fromkeys(str(move.material) for move in moves[:5]))
    more = f" and {len(moves) - 5} more" if len(moves) > 5 else ""
    return f"{things}. Set to what was counted: {names}{more}."


def _page(
    request: HttpRequest, form: StocktakeForm, kind: str, listed: lists.Listed | None
) -> HttpResponse:
    context = {
        "form": form,
        "kind": kind,
        "kinds": MaterialKind.choices,
        "listed": listed,
    }
    return render(request, "shop/catalogue/stocktake.html", context, status=form.status)
