"""Finishes: what surfaces are covered with, with their published absorption."""

from __future__ import annotations

import uuid

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import (
    require_GET,
    require_http_methods,
    require_POST,
)

from shared import lists
from shared.access import Right, needs
from shared.htmx import page_or_fragment
from shop.catalogue.forms import FinishForm
from shop.catalogue.models import Finish
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


@require_GET
def finishes(request: HttpRequest) -> HttpResponse:
    """List finishes with their coefficients: all, or found by words."""
    words = lists.words(request)
    found = Finish.objects.matching(words)
    return page_or_fragment(
        request,
        page="shop/catalogue/finishes.html",
        fragment="shop/catalogue/_finishes.html",
        context=rights_of(request) | found_in(request, found, words),
    )


@needs(Right.KEEP_STORES)
@require_http_methods(GET_POST)
def finish_new(request: HttpRequest) -> HttpResponse:
    """Add a finish."""
    form = FinishForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        return added(request, form, "finishes")
    return form_page(request, form, title="A new finish", up="finishes")


@needs(Right.KEEP_STORES)
@require_http_methods(GET_POST)
def finish_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change a finish; surveys take it as it is now."""
    finish = get_object_or_404(Finish, pk=pk)
    title = f"Change {finish}"
    form = FinishForm(request.POST or None, instance=finish)
    if request.method == "POST" and form.is_valid():
        return changed(request, form, "finishes")
    return form_page(request, form, title=title, up="finishes")


@needs(Right.KEEP_STORES)
@require_POST
def finish_archive(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put a finish aside, with a way back."""
    return archive(request, get_object_or_404(Finish, pk=pk), "finish", "finishes")


@needs(Right.KEEP_STORES)
@require_POST
def finish_restore(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Offer a finish again."""
    return restore(request, get_object_or_404(Finish, pk=pk), "finishes")
