"""What pages and papers show of the shop."""

from __future__ import annotations

from shared.conventions import Conventions
from shop.people.models import ShopProfile


def profile() -> ShopProfile:
    """Return the shop's profile; an unsaved one before the shop is set up. One query."""
    return ShopProfile.objects.first() or ShopProfile(name="Your shop")


def conventions() -> Conventions:
    """How the shop writes lengths, money and time. One query."""
    return profile().conventions()
