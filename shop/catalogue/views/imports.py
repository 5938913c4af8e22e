"""The lists of the stores as files: taken out, brought in, looked at, stored, put back."""

from __future__ import annotations

import uuid
from contextlib import suppress

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.http import content_disposition_header
from django.views.decorators.http import (
    require_GET,
    require_http_methods,
    require_POST,
)

from shared import lists
from shared.access import Right, needs
from shared.audit.reports import log_of
from shared.conventions import today
from shared.files.views import no_store
from shared.notices import say
from shop.catalogue import actions
from shop.catalogue.engine import TableError
from shop.catalogue.forms import BOOKS, ImportForm, Plan, StoreForm, plan_import
from shop.catalogue.models import Effect, Import, ImportedList
from shop.catalogue.reports import counts, shown_lines
from shop.catalogue.views.common import GET_POST
from shop.people.me import me

SHOWN = 10
MOVED = "The stores changed since this was worked out. Look at it again, then store it."


@needs(Right.SEE_MONEY)
@needs(Right.KEEP_STORES)
@require_http_methods(GET_POST)
def imports(request: HttpRequest) -> HttpResponse:
    """Offer each list as a file; take one in, and go on to what it would do."""
    if request.method == "POST":
        form = ImportForm(request.POST, request.FILES)
        if form.is_valid():
            return redirect(_kept(request, form))
    else:
        form = ImportForm(initial={"what": request.GET.get("what")})
    context = {
        "form": form,
        "lists": ImportedList.choices,
        "recent": Import.objects.recent()[:SHOWN],
    }
    page = "shop/catalogue/imports.html"
    return render(request, page, context, status=form.status)


def _kept(request: HttpRequest, form: ImportForm) -> Import:
    """Keep what was brought in, with what its lines would do."""
    imported = Import(
        what=form.cleaned_data["what"],
        file_name=form.cleaned_data["file"].name,
        text=form.cleaned_data["text"],
        looked_at=timezone.now(),
        by=me(request),
    )
    return actions.keep_import(imported, plan_import(form.book, form.table).looked)


@needs(Right.SEE_MONEY)
@needs(Right.KEEP_STORES)
@require_GET
def export(request: HttpRequest, what: str) -> HttpResponse:
    """Answer with a whole list as CSV."""
    if what not in ImportedList.values:
        raise Http404
    data = BOOKS[ImportedList(what)].write()
    name = f"{what}-{today(timezone.now())}.csv"
    response = HttpResponse(
        data, content_type="text/csv; charset=utf-8; header=present"
    )
    header = content_disposition_header(as_attachment=True, filename=name)
    response["Content-Disposition"] = header or ""
    return no_store(response)


@needs(Right.SEE_MONEY)
@needs(Right.KEEP_STORES)
@require_GET
def import_page(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show what a file would do, or did, line by line."""
    return _page(request, get_object_or_404(Import.objects.recent(), pk=pk))


def _page(
    request: HttpRequest, imported: Import, form: StoreForm | None = None
) -> HttpResponse:
    counted = counts(imported)
    asked = request.GET.get("effect", "")
    effect = asked if asked in Effect.values else ""
    listed = lists.cut(request, imported.lines.with_effect(effect), "effect")
    usual = StoreForm(initial={"seen": imported.digest}, refused=counted.refused)
    context = {
        "imported": imported,
        "counts": counted,
        "effect": effect,
        "listed": listed,
        "lines": shown_lines(listed.page),
        "form": form or usual,
        "log": log_of(imported),
    }
    status = form.status if form else 200
    return render(request, "shop/catalogue/import.html", context, status=status)


@needs(Right.SEE_MONEY)
@needs(Right.KEEP_STORES)
@require_POST
def import_store(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Store what a file does, if that is still what was seen."""
    imported = get_object_or_404(Import, pk=pk)
    if imported.is_stored:
        say(request, "This file is stored already.")
        return redirect(imported)
    book = BOOKS[ImportedList(imported.what)]
    try:
        plan = plan_import(book, book.read(imported.text))
    except TableError as refused:  # the shop's currency or units changed meanwhile
        messages.error(request, refused.message)
        return redirect(imported)
    form = StoreForm(request.POST, refused=plan.refused)
    if form.data.get("seen") != plan.looked.digest:
        return _looked_again(request, imported, plan)
    if not form.is_valid():
        return _page(request, imported, form)
    return _stored(request, imported, plan)


def _looked_again(request: HttpRequest, imported: Import, plan: Plan) -> HttpResponse:
    actions.look_again(imported, plan.looked, at=timezone.now())
    messages.warning(request, MOVED)
    return redirect(imported)


def _stored(request: HttpRequest, imported: Import, plan: Plan) -> HttpResponse:
    if not plan.writings:
        say(request, "There is nothing to store in this file.")
        return redirect(imported)
    try:
        actions.store_import(imported, plan.writings, by=me(request), at=timezone.now())
    except actions.StoresMovedError:
        messages.warning(request, MOVED)
        return redirect(imported)
    number = len(plan.writings)
    text = f"{number} row{'' if number == 1 else 's'} stored."
    if plan.refused:
        text += f" {plan.refused} left out."
    say(request, text, undo=reverse("shop:import-undo", args=(imported.pk,)))
    return redirect(imported)


@needs(Right.SEE_MONEY)
@needs(Right.KEEP_STORES)
@require_POST
def import_undo(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put the stores back as they were before a file."""
    imported = get_object_or_404(Import, pk=pk)
    book = BOOKS[ImportedList(imported.what)]
    try:
        done = actions.undo_import(
            imported, book.model, by=me(request), at=timezone.now()
        )
    except actions.StoresMovedError:
        messages.warning(
            request,
            "This can’t be put back: it is not stored, or rows changed so that the former"
            " values don’t fit any more. Nothing was changed.",
        )
        return redirect(imported)
    say(request, _said(done))
    with suppress(TableError):  # the shop's currency or units changed meanwhile
        plan = plan_import(book, book.read(imported.text))
        actions.look_again(imported, plan.looked, at=timezone.now())
    return redirect(imported)


def _said(done: actions.PutBack) -> str:
    """Say what an undo did, as far as there is something to say."""
    parts = (
        (done.back, "as before"),
        (done.kept, "partly as somebody left it since"),
        (done.gone, "taken out again"),
        (done.aside, "put aside, being used or having a history"),
    )
    told = [f"{number} {words}" for number, words in parts if number]
    return f"Undone: {', '.join(told)}." if told else "Undone."
