"""Photos on the walk."""

from __future__ import annotations

from shared.files.models import Attachment
from shop.surveys.models import Room

ROOM_PHOTO = "room-photo"


def photos_of(room: Room) -> tuple[Attachment, ...]:
    """Return a room's photos. One query."""
    return tuple(Attachment.objects.of("room", room.pk).standing())
