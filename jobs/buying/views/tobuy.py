"""What to buy, and the orders that are made of it."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from jobs.buying.actions.drafts import write_orders
from jobs.buying.models import Order
from jobs.buying.reports.tobuy import to_buy
from shared.access import Right, needs
from shared.conventions import today
from shared.notices import say
from shop.people.me import me


@require_GET
@needs(Right.KEEP_STORES)
def show_to_buy(request: HttpRequest) -> HttpResponse:
    """Show what has to be ordered, what of it today, and what waits."""
    return _show(request)


def _show(request: HttpRequest, *, error: str = "", status: int = 200) -> HttpResponse:
    now = today(timezone.now())
    context = {
        "page": to_buy(today=now),
        "today": now,
        "drafts": Order.objects.drafts().with_supplier(),
        "late": Order.objects.late(now).with_supplier(),
        "chosen": request.POST.getlist("line"),
        "error": error,
    }
    return render(request, "jobs/buying/to_buy.html", context, status=status)


@require_POST
@needs(Right.KEEP_STORES)
def write(request: HttpRequest) -> HttpResponse:
    """Put the chosen lines into drafts, one for each supplier."""
    keys = request.POST.getlist("line")
    if not keys:
        return _show(request, error="Tick what you want to order first.", status=422)
    orders = write_orders(keys, by=me(request), at=timezone.now())
    if not orders:
        say(request, "Nothing was written: somebody took it over meanwhile.")
        return redirect("jobs:buying")
    numbers = ", ".join(order.number for order in orders)
    say(request, f"Written: {numbers}. Look it over, then place it.")
    if len(orders) == 1:
        return redirect(orders[0])
    return redirect(f"{reverse('jobs:orders')}?state=draft")
