"""Beside a draft quote's price: what it would take in whole sheets."""

from __future__ import annotations

import uuid

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_GET

from jobs.cutting import reports
from quotes.offers.models import Quote
from shared.access import Right, needs
from shared.htmx import page_or_fragment


@require_GET
@needs(Right.QUOTE)
def quote_in_sheets(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show what a draft takes in whole sheets, and what the difference costs."""
    quote = get_object_or_404(Quote.objects.with_client(), pk=pk)
    if not quote.is_changeable:
        return redirect(quote)
    return page_or_fragment(
        request,
        page="jobs/cutting/draft.html",
        fragment="jobs/cutting/_draft_sheets.html",
        context={"quote": quote, "found": reports.whole_sheets(quote)},
    )
