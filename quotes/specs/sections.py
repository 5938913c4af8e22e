"""What builds add to the pages of the apps below."""

from __future__ import annotations

from django.http import HttpRequest

from quotes.specs.reports import groups_in_room
from shared.slots import Section
from shop.surveys.models import Room


def room_panels(request: HttpRequest, room: Room) -> Section:
    """Show on a room's page what is planned for it. Nine queries at most."""
    context = {"room": room, "groups": groups_in_room(room)}
    return Section("quotes/specs/_room_section.html", context)
