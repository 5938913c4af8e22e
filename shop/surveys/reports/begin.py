"""Where a survey is begun: whose room, of what shape; known rooms, the newest first."""

from __future__ import annotations

import json
from dataclasses import dataclass

from shop.clients.models import Client
from shop.people.models import ShopProfile
from shop.surveys.adapter import corner_of
from shop.surveys.engine import SHAPES, RoomShape
from shop.surveys.models import Room
from shop.surveys.reports.walk import Blanks, BlankWalk, blank_walk, blanks

MOST_ROOMS = 40
"""The page is kept on the device; older rooms are found on the page of rooms."""


@dataclass(frozen=True, slots=True)
class BeginShape:
    """A shape to begin with, and what a device has to know to show it with no network."""

    label: str
    value: str


@dataclass(frozen=True, slots=True)
class BeginPage:
    """What a survey may be begun with; `client` is the one who was chosen, if any."""

    client: Client | None
    rooms: tuple[Room, ...]
    more: bool
    shapes: tuple[BeginShape, ...]
    page: BlankWalk
    blank: Blanks


def begin_page(
    client: Client | None, shop: ShopProfile, *, shows_rates: bool
) -> BeginPage:
    """Gather the known rooms, of one client where one was chosen. Three queries."""
    rooms = Room.objects.to_walk()
    if client is not None:
        rooms = rooms.of_client(client)
    found = tuple(rooms[: MOST_ROOMS + 1])
    names = max((shape.names for shape in SHAPES.values()), key=len)
    return BeginPage(
        client=client,
        rooms=found[:MOST_ROOMS],
        more=len(found) > MOST_ROOMS,
        shapes=tuple(_shape(shape, client) for shape in SHAPES.values()),
        page=blank_walk(names, shop, shows_rates=shows_rates),
        blank=blanks(),
    )


def _shape(shape: RoomShape, client: Client | None) -> BeginShape:
    corners = [corner_of(turn).value for turn in shape.turns]
    value = {"shape": shape.key, "walls": len(corners), "corners": corners}
    known = {"client": str(client.pk)} if client else {}
    return BeginShape(shape.label, json.dumps(value | known))
