"""Offcuts and remnants: keep, use, throw away, find, and print what is stuck on them."""

from __future__ import annotations

import uuid
from collections.abc import Callable

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import (
    require_GET,
    require_http_methods,
    require_POST,
)

from shared import lists
from shared.access import needs
from shared.files.views import pdf_response
from shared.htmx import done, page_or_fragment
from shared.notices import say
from shop.catalogue import actions
from shop.catalogue.actions import StockError
from shop.catalogue.documents import labels_pdf
from shop.catalogue.forms.pieces import PieceForm, PieceSearch
from shop.catalogue.models import COUNTED, Material, PieceChange, StockPiece
from shop.catalogue.reports.pieces import piece_lines, piece_size
from shop.catalogue.reports.stock import levels_of
from shop.catalogue.views.common import GET_POST, SEES_STOCK
from shop.people.me import me
from shop.people.reports import profile

Turn = Callable[..., PieceChange]


@needs(*SEES_STOCK)
@require_GET
def pieces(request: HttpRequest) -> HttpResponse:
    """List kept pieces by material: all, those of a size at least, or one by its number."""
    form = PieceSearch(request.GET)
    asked = form.cleaned_data if form.is_valid() else {}
    length, width = asked.get("length") or 0, asked.get("width") or 0
    found = StockPiece.objects.found_by(
        number=asked.get("q"), length_ticks=length, width_ticks=width
    )
    listed = lists.cut(request, found, "q", "length", "width")
    context = {
        "form": form,
        "listed": listed,
        "lines": piece_lines(listed.page, length_ticks=length, width_ticks=width),
        "narrowed": bool(request.GET.get("q") or length or width),
    }
    return page_or_fragment(
        request,
        page="shop/catalogue/pieces.html",
        fragment="shop/catalogue/_pieces_found.html",
        context=context,
        status=form.status,
    )


@needs(*SEES_STOCK)
@require_http_methods(GET_POST)
def piece_keep(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Keep a piece of a material, and say what number to write on it."""
    material = get_object_or_404(Material, pk=pk)
    if material.kind in COUNTED:
        raise Http404("nothing that is kept in pieces")
    lots = [lot for lot in levels_of(material) if lot]
    form = PieceForm(request.POST or None, material=material, lots=lots)
    if request.method == "POST" and form.is_valid():
        kept = actions.keep_piece(
            material,
            **form.sizes(),
            lot=form.cleaned_data.get("lot", ""),
            note=form.cleaned_data["note"],
            by=me(request),
            at=timezone.now(),
        )
        text = f"Write {kept.code} on it: {piece_size(kept)} of {material}."
        say(request, text, undo=reverse("shop:piece-throw", args=(kept.pk,)))
        return done(request, f"{material.get_absolute_url()}#pieces")
    context = {"form": form, "material": material}
    return render(
        request, "shop/catalogue/piece_form.html", context, status=form.status
    )


@needs(*SEES_STOCK)
@require_POST
def piece_use(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Write down that a piece was used."""
    return _turn(request, pk, actions.use_piece, "used", "piece-find")


@needs(*SEES_STOCK)
@require_POST
def piece_throw(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Write down that a piece was thrown away."""
    return _turn(request, pk, actions.throw_piece, "thrown away", "piece-find")


@needs(*SEES_STOCK)
@require_POST
def piece_find(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take a piece back among those kept."""
    return _turn(request, pk, actions.find_piece, "kept again", "")


def _turn(
    request: HttpRequest, pk: uuid.UUID, turn: Turn, done_to_it: str, back: str
) -> HttpResponse:
    """Turn a piece's state and say so, with a way back where there is one."""
    piece = get_object_or_404(StockPiece.objects.with_material(), pk=pk)
    try:
        turn(piece, by=me(request), at=timezone.now())
    except StockError as refused:
        messages.error(request, refused.message)
    else:
        undo = reverse(f"shop:{back}", args=(piece.pk,)) if back else ""
        say(request, f"{piece} is {done_to_it}.", undo=undo)
    return done(request, f"{piece.material.get_absolute_url()}#pieces")


@needs(*SEES_STOCK)
@require_GET
def piece_label(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Print one piece's label."""
    piece = get_object_or_404(StockPiece.objects.with_material(), pk=pk)
    pdf = labels_pdf([piece], profile=profile())
    return pdf_response(pdf, name=f"{piece.code}.pdf")


@needs(*SEES_STOCK)
@require_GET
def piece_labels(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Print the labels of all kept pieces of a material."""
    material = get_object_or_404(Material, pk=pk)
    kept = StockPiece.objects.of_material(material).kept().with_material()
    if not kept:
        raise Http404("no piece is kept")
    pdf = labels_pdf(kept, profile=profile())
    return pdf_response(pdf, name=f"{material.code}-labels.pdf")
