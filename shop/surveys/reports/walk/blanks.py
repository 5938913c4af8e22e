"""Parts that do not exist yet, as the templates show from which a device makes them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from shop.clients.models import Client, ClientDetails, Site
from shop.people.models import ShopProfile
from shop.surveys.models import (
    Beam,
    Covering,
    Member,
    Opening,
    Room,
    Spot,
    Survey,
    Wall,
    Zone,
)
from shop.surveys.reports.walk.fields import Part, blank_part
from shop.surveys.reports.walk.inside import SPOT, covering_kind, finish_choices
from shop.surveys.reports.walk.openings import OPENING
from shop.surveys.reports.walk.places import (
    BEAM,
    COMMON,
    MEMBER,
    OVERHEAD,
    ZONE,
    usual_kinds,
)
from shop.surveys.reports.walk.site import SITE
from shop.surveys.reports.walk.told import told_words
from shop.surveys.reports.walk.walls import WALL
from shop.surveys.reports.walk.who import CLIENT, ROOM, SURVEY

USUAL_HINT = "as usual"
_ON_WALL: dict[str, tuple[Part, ...]] = {
    "openings": (),
    "zones": (),
    "members": (),
    "coverings": (),
}


@dataclass(frozen=True, slots=True)
class Blanks:
    """One part of each kind that can be added."""

    wall: Part
    opening: Part
    zone: Part
    member: Part
    beam: Part
    covering: Part
    spot: Part


def blanks() -> Blanks:
    """Return a part of each kind. One query."""
    finishes = covering_kind(finish_choices())
    sides = dict.fromkeys(("width", "height", "margin"), USUAL_HINT)
    return Blanks(
        wall=blank_part(WALL, Wall(), "the new wall", parts=_ON_WALL),
        opening=blank_part(
            OPENING, Opening(), "the new opening", parts={"coverings": ()}
        ),
        zone=blank_part(ZONE, Zone(), "the new place", hints=sides),
        member=blank_part(MEMBER, Member(), "the new stud or joist"),
        beam=blank_part(BEAM, Beam(), "the new beam"),
        covering=blank_part(finishes, Covering(), "the new finish"),
        spot=blank_part(SPOT, Spot(), "the new place to listen or play"),
    )


@dataclass(frozen=True, slots=True)
class BlankWalk:
    """A walk of which nothing is known yet but the order of its walls."""

    client: Part
    site: Part
    room: Part
    survey: Part
    walls: tuple[Part, ...]
    told: str
    common: tuple[Any, ...] = COMMON
    overhead: tuple[Any, ...] = OVERHEAD


def blank_walk(names: str, shop: ShopProfile, *, shows_rates: bool) -> BlankWalk:
    """Return a walk with a wall for each letter, its ids being tokens. One query."""
    client = Client()
    client.details = ClientDetails()
    on_ceiling: dict[str, tuple[Part, ...]] = dict.fromkeys(
        ("zones", "members", "beams", "coverings", "spots"), ()
    )
    return BlankWalk(
        client=blank_part(CLIENT, client, "the client", mark="__client__"),
        site=blank_part(SITE, Site(), "the site", mark="__site__"),
        room=blank_part(ROOM, Room(), "the room", mark="__room__"),
        survey=blank_part(
            SURVEY, Survey(), "the ceiling", mark="__survey__", parts=on_ceiling
        ),
        walls=tuple(
            blank_part(
                WALL,
                Wall(name=name),
                f"wall {name}",
                mark=f"__wall{number}__",
                parts=_ON_WALL,
            )
            for number, name in enumerate(names, start=1)
        ),
        told=told_words(
            shop.panel_clearance_ticks, usual_kinds(), shop if shows_rates else None
        ),
    )
