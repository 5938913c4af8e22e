"""What pricing adds to the pages of the app below."""

from __future__ import annotations

from django.http import HttpRequest

from shared.access import Right, may
from shared.slots import Section
from shop.people.models import ShopProfile


def way_to_rules(request: HttpRequest, shop: ShopProfile) -> Section | None:
    """Give the way to the price rules, for those who may see money."""
    if not may(request.user, Right.SEE_MONEY):
        return None
    return Section(template="quotes/pricing/_way_to_rules.html", context={})
