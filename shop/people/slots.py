"""Parts that upper apps add to the shop's own page."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest

from shared.slots import Section, Slot
from shop.people.models import ShopProfile

SHOP_SECTIONS: Slot[Callable[[HttpRequest, ShopProfile], Section | None]] = Slot(
    "shop page"
)
"""Functions that give a section of the shop's page, or nothing for this person."""
