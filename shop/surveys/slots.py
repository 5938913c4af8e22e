"""Parts that upper apps add to a room's page."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest

from shared.slots import Section, Slot
from shop.surveys.models import Room

ROOM_SECTIONS: Slot[Callable[[HttpRequest, Room], Section | None]] = Slot("room page")
"""Functions that give a section of a room's page, or nothing for this person."""
