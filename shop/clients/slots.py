"""Parts that upper apps add to a client's page."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest

from shared.slots import Section, Slot
from shop.clients.models import Client

CLIENT_SECTIONS: Slot[Callable[[HttpRequest, Client], Section | None]] = Slot(
    "client page"
)
"""Functions that give a section of a client's page, or nothing for this person."""
