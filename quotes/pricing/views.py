"""The shop's price rules: one page, which is a form."""

from __future__ import annotations

from typing import cast

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from quotes.pricing.actions import store_rules
from quotes.pricing.forms import PriceRulesForm
from quotes.pricing.models import PriceRules, TaxRate
from quotes.pricing.reports.example import becomes
from shared.access import Right, needs
from shared.htmx import done, page_or_fragment
from shared.notices import say
from shop.people.models import Person

PAGE = "quotes/pricing/price_rules.html"


@require_http_methods(["GET", "HEAD", "POST"])
@needs(Right.SEE_MONEY)
def price_rules(request: HttpRequest) -> HttpResponse:
    """Show and change the rules; a GET with rules typed shows what they would do."""
    rules = PriceRules.objects.first() or PriceRules()
    tried = request.GET if "profit_percent" in request.GET else None
    form = PriceRulesForm(
        request.POST or tried, instance=rules, rates=TaxRate.objects.all()
    )
    if request.method == "POST":
        return _store(request, form)
    return page_or_fragment(
        request,
        page=PAGE,
        fragment="quotes/pricing/_example.html",
        context=_context(form),
    )


def _store(request: HttpRequest, form: PriceRulesForm) -> HttpResponse:
    if not form.is_valid():
        return render(request, PAGE, _context(form), status=422)
    by = cast("Person", request.user)
    store_rules(form.instance, form.rates(), by=by, at=timezone.now())
    say(request, "Stored. Drafts are priced by it from now on; what was sent stays.")
    return done(request, request.path)


def _context(form: PriceRulesForm) -> dict[str, object]:
    """Give the form, and what a hundred becomes by it where it can be read."""
    basis = form.basis()
    return {"form": form, "becomes": becomes(basis) if basis else ()}
