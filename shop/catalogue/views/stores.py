"""The stores: materials by kind, suppliers, operations."""

from __future__ import annotations

import uuid
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import (
    require_GET,
    require_http_methods,
    require_POST,
)

from shared import lists
from shared.access import Right, may, needs
from shared.audit.reports import log_of
from shared.htmx import done, page_or_fragment
from shared.notices import say
from shared.slots import sections
from shop.catalogue import actions
from shop.catalogue.forms import MaterialForm, OperationForm, SupplierForm
from shop.catalogue.models import (
    COUNTED,
    Material,
    MaterialKind,
    Operation,
    PriceChange,
    StockMove,
    StockPiece,
    Supplier,
)
from shop.catalogue.models.materials import MaterialQuerySet
from shop.catalogue.reports import area_price, material_rows, size_text, unit_price
from shop.catalogue.reports.pieces import piece_lines
from shop.catalogue.reports.stock import move_lines, running_short, stock_sheet
from shop.catalogue.slots import MATERIAL_SECTIONS
from shop.catalogue.views.common import (
    GET_POST,
    added,
    archive,
    changed,
    form_page,
    found_in,
    restore,
    rights_of,
)
from shop.people.me import me


def _kind(request: HttpRequest) -> str:
    """Return the kind asked for; nothing when there is none of that name."""
    asked = request.POST.get("kind") or request.GET.get("kind") or ""
    return asked if asked in MaterialKind.values else ""


STOCKS = (("short", "running short"), ("below", "below nothing"))


def _in_stock(found: MaterialQuerySet, stock: str) -> MaterialQuerySet:
    """Narrow materials to those that run short, or that stand below nothing."""
    if stock == "below":
        return found.below_nothing()
    if stock == "short":
        return found.by_ids(running_short(found.values_list("pk", flat=True)))
    return found


@require_GET
def materials(request: HttpRequest) -> HttpResponse:
    """List materials: of one kind or all, found by words, in use or put aside."""
    words, kind = lists.words(request), _kind(request)
    aside = bool(request.GET.get("aside"))
    rights = rights_of(request)
    found = Material.objects.with_supplier().shown(words, kind=kind, aside=aside)
    stock = request.GET.get("stock", "") if rights["sees_stock"] else ""
    listed = lists.cut(request, _in_stock(found, stock), "q", "kind", "aside", "stock")
    context = rights | {
        "listed": listed,
        "rows": material_rows(
            listed.page,
            sees_money=rights["sees_money"],
            sees_stock=rights["sees_stock"],
        ),
        "stock": stock,
        "stocks": STOCKS,
        "words": words,
        "kind": kind,
        "kinds": MaterialKind.choices,
        "aside": aside,
    }
    return page_or_fragment(
        request,
        page="shop/catalogue/materials.html",
        fragment="shop/catalogue/_materials.html",
        context=context,
    )


PRICES_SHOWN = 20
PIECES_SHOWN = 40


def _material(pk: uuid.UUID) -> Material:
    found: Material = get_object_or_404(Material.objects.with_supplier(), pk=pk)
    return found


@require_GET
def material(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show one material, with its price and how that comes for whoever may see it."""
    shown, rights = _material(pk), rights_of(request)
    figures = (unit_price(shown), area_price(shown)) if rights["sees_money"] else ()
    context = rights | {
        "material": shown,
        "size": size_text(shown),
        "figures": [figure for figure in figures if figure],
        "log": log_of(shown),
        "sections": sections(MATERIAL_SECTIONS, request, shown),
    }
    if rights["sees_money"]:
        context["prices"] = PriceChange.objects.of_material(shown)[:PRICES_SHOWN]
    if rights["sees_stock"]:
        context |= _stock(request, shown, may_keep=rights["may_keep"])
    page = "shop/catalogue/material.html"
    ledger = "shop/catalogue/_ledger.html" if rights["sees_stock"] else page
    return page_or_fragment(request, page=page, fragment=ledger, context=context)


def _stock(
    request: HttpRequest, material: Material, *, may_keep: bool
) -> dict[str, Any]:
    """Say what lies there of a material: levels, pieces, and a page of its moves."""
    listed = lists.cut(request, StockMove.objects.of_material(material))
    own = None if may_keep else me(request).pk
    kept = StockPiece.objects.of_material(material).kept().with_material()
    return {
        "stock": stock_sheet(material, orders_open=may_keep),
        "has_pieces": material.kind not in COUNTED,
        "pieces": piece_lines(kept[:PIECES_SHOWN]),
        "pieces_kept": kept.count(),
        "listed": listed,
        "moves": move_lines(material, listed.page, for_person=own),
    }


def _first_values(request: HttpRequest) -> dict[str, Any]:
    """Return what a new material starts from: what was typed for another kind."""
    return {name: value for name, value in request.GET.items() if name != "kind"}


@needs(Right.KEEP_STORES)
@require_http_methods(GET_POST)
def material_new(request: HttpRequest) -> HttpResponse:
    """Add a material: its kind first, then the fields of that kind."""
    kind = _kind(request)
    if not kind:
        context = {"kinds": MaterialKind.choices}
        return render(request, "shop/catalogue/kinds.html", context)
    sees = may(request.user, Right.SEE_MONEY)
    form = MaterialForm(
        request.POST or None,
        instance=Material(kind=kind),
        initial=_first_values(request),
        sees_money=sees,
    )
    if request.method == "POST" and form.is_valid():
        new = actions.add(form.save(commit=False), by=me(request), at=timezone.now())
        say(request, f"{new} is in the stores.")
        return done(request, new.get_absolute_url())
    return _material_form(request, form, title="A new material")


@needs(Right.KEEP_STORES)
@require_http_methods(GET_POST)
def material_copy(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Add a material that is like another: the same cloth in the next colour."""
    like = _material(pk)
    sees = may(request.user, Right.SEE_MONEY)
    form = MaterialForm(request.POST or None, instance=like.another(), sees_money=sees)
    if request.method == "POST" and form.is_valid():
        new = actions.add(form.save(commit=False), by=me(request), at=timezone.now())
        say(request, f"{new} is in the stores.")
        return done(request, new.get_absolute_url())
    return _material_form(request, form, title=f"Another like {like}", above=like)


@needs(Right.KEEP_STORES)
@require_http_methods(GET_POST)
def material_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change a material; its kind stays, since builds rely on it."""
    stored = _material(pk)
    sees = may(request.user, Right.SEE_MONEY)
    form = MaterialForm(request.POST or None, instance=_material(pk), sees_money=sees)
    if request.method == "POST" and form.is_valid():
        actions.change(form.save(commit=False), by=me(request), at=timezone.now())
        say(request, "Stored. Quotes that were sent keep what they say.")
        return done(request, stored.get_absolute_url())
    return _material_form(request, form, title=f"Change {stored}", above=stored)


def _material_form(
    request: HttpRequest,
    form: MaterialForm,
    *,
    title: str,
    above: Material | None = None,
) -> HttpResponse:
    up = above.get_absolute_url() if above else reverse("shop:materials")
    context = {
        "form": form,
        "title": title,
        "above": above,
        "up": up,
        "kind": form.instance.kind,
        "kinds": () if above else MaterialKind.choices,
    }
    return page_or_fragment(
        request,
        page="shop/catalogue/material_form.html",
        fragment="shop/catalogue/_material_form.html",
        context=context,
        status=form.status,
    )


@needs(Right.KEEP_STORES)
@require_POST
def material_archive(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put a material aside, with a way back."""
    return archive(request, _material(pk), "material", "materials")


@needs(Right.KEEP_STORES)
@require_POST
def material_restore(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take a material into use again."""
    return restore(request, _material(pk), "materials")


@require_GET
def suppliers(request: HttpRequest) -> HttpResponse:
    """List whom the shop buys from: all, or found by words."""
    words = lists.words(request)
    found = Supplier.objects.matching(words)
    return page_or_fragment(
        request,
        page="shop/catalogue/suppliers.html",
        fragment="shop/catalogue/_suppliers.html",
        context=rights_of(request) | found_in(request, found, words),
    )


@needs(Right.KEEP_STORES)
@require_http_methods(GET_POST)
def supplier_new(request: HttpRequest) -> HttpResponse:
    """Add a supplier."""
    form = SupplierForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        return added(request, form, "suppliers")
    return form_page(request, form, title="A new supplier", up="suppliers")


@needs(Right.KEEP_STORES)
@require_http_methods(GET_POST)
def supplier_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change a supplier."""
    supplier = get_object_or_404(Supplier, pk=pk)
    title = f"Change {supplier}"
    form = SupplierForm(request.POST or None, instance=supplier)
    if request.method == "POST" and form.is_valid():
        return changed(request, form, "suppliers")
    return form_page(request, form, title=title, up="suppliers")


@needs(Right.KEEP_STORES)
@require_POST
def supplier_archive(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put a supplier aside, with a way back."""
    supplier = get_object_or_404(Supplier, pk=pk)
    return archive(request, supplier, "supplier", "suppliers")


@needs(Right.KEEP_STORES)
@require_POST
def supplier_restore(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Buy from a supplier again."""
    return restore(request, get_object_or_404(Supplier, pk=pk), "suppliers")


@require_GET
def operations(request: HttpRequest) -> HttpResponse:
    """List the kinds of work and their minutes; rates for whoever may see them."""
    words = lists.words(request)
    found = Operation.objects.in_order().matching(words)
    return page_or_fragment(
        request,
        page="shop/catalogue/operations.html",
        fragment="shop/catalogue/_operations.html",
        context=rights_of(request) | found_in(request, found, words),
    )


@needs(Right.SEE_MONEY)
@needs(Right.KEEP_STORES)
@require_http_methods(GET_POST)
def operation_new(request: HttpRequest) -> HttpResponse:
    """Add a kind of work."""
    form = OperationForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        return added(request, form, "operations")
    return form_page(request, form, title="A new kind of work", up="operations")


@needs(Right.SEE_MONEY)
@needs(Right.KEEP_STORES)
@require_http_methods(GET_POST)
def operation_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change a kind of work."""
    operation = get_object_or_404(Operation, pk=pk)
    title = f"Change {operation}"
    form = OperationForm(request.POST or None, instance=operation)
    if request.method == "POST" and form.is_valid():
        return changed(request, form, "operations")
    return form_page(request, form, title=title, up="operations")


@needs(Right.KEEP_STORES)
@require_POST
def operation_archive(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put a kind of work aside, with a way back."""
    operation = get_object_or_404(Operation, pk=pk)
    return archive(request, operation, "operation", "operations")


@needs(Right.KEEP_STORES)
@require_POST
def operation_restore(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take a kind of work up again."""
    return restore(request, get_object_or_404(Operation, pk=pk), "operations")
