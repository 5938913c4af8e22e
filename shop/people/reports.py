"""What pages and papers show of the shop."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest
from django.utils.functional import SimpleLazyObject

from shared.conventions import Conventions
from shop.people.models import ShopProfile


def profile() -> ShopProfile:
    """Return the shop's profile; an unsaved one before the shop is set up. One query."""
    return ShopProfile.objects.first() or ShopProfile(name="Your shop")


def conventions() -> Conventions:
    """How the shop writes lengths, money and time. One query."""
    return profile().conventions()


def shop_on_page(request: HttpRequest) -> dict[str, Any]:
    """Template context: the shop's name, and whether it is invented.

    One query, and none on an answer that does not show them.
    """
    shop = SimpleLazyObject(profile)
    return {
        "shop_name": SimpleLazyObject(lambda: shop.name),
        "shop_invented": SimpleLazyObject(lambda: shop.invented),
    }
