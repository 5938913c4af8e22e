"""The quote's page, which several views answer with."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from quotes.offers.documents import agreed_html
from quotes.offers.forms import AnswerForm
from quotes.offers.models import Quote
from quotes.offers.reports import quote_page
from quotes.offers.slots import QUOTE_SECTIONS
from shared.audit.reports import log_of
from shared.conventions import today
from shared.slots import sections


def quote_response(
    request: HttpRequest, quote: Quote, answer: AnswerForm, *, status: int = 200
) -> HttpResponse:
    """Answer with a quote's page: the draft, or what was settled."""
    page = quote_page(quote, on=today(timezone.now()))
    context = {
        "page": page,
        "answer": answer.asked_of(quote),
        "agreed": agreed_html(page.settled.snapshot) if page.settled else "",
        "sections": sections(QUOTE_SECTIONS, request, quote),
        "log": log_of(quote),
    }
    return render(request, "quotes/offers/quote.html", context, status=status)
