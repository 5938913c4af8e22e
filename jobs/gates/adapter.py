"""Read what was agreed out of an accepted revision's snapshot."""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from decimal import Decimal
from typing import Any

from jobs.board.snapshot import KNOWN_SCHEMAS, UnknownSnapshotError
from jobs.gates.engine import Agreed, Cloth, Reveal, Unpapered, Wanted, wanted
from quotes.offers.unknown import SHARED_USE
from quotes.specs.models import PanelKind
from shop.catalogue.models import Material, MaterialKind
from shop.clients.models import Tenure


def wanted_of(snapshot: Mapping[str, Any]) -> tuple[Wanted, ...]:
    """Return what a job of this snapshot waits for.

    Raises `UnknownSnapshotError` for a schema that is not known.
    """
    if snapshot.get("schema") not in KNOWN_SCHEMAS:
        raise UnknownSnapshotError(snapshot.get("schema"))
    return wanted(agreed(snapshot))


Place = tuple[str, uuid.UUID | None]
"""A gate of a job by its kind and its material."""


def placed(asked: Iterable[Wanted]) -> dict[Place, Wanted]:
    """Give each thing wanted its place; what the catalogue lost shares one. One query."""
    asked = tuple(asked)
    keys = [key for each in asked if (key := _uuid(each.material))]
    known = set(Material.objects.filter(pk__in=keys).values_list("pk", flat=True))
    found: dict[Place, Wanted] = {}
    for each in asked:
        key = _uuid(each.material)
        place = (each.wait.value, key if key in known else None)
        found.setdefault(place, each)
    return found


def _uuid(key: str) -> uuid.UUID | None:
    with suppress(ValueError):
        return uuid.UUID(key)
    return None


def agreed(snapshot: Mapping[str, Any]) -> Agreed:
    """Read a snapshot of a known schema."""
    return Agreed(
        deposit=Decimal(snapshot["price"].get("deposit") or 0) > 0,
        cloths=tuple(_cloths(snapshot)),
        reveals=tuple(_reveals(snapshot)),
        rented=_rented(snapshot["rooms"]),
        unpapered=tuple(_unpapered(snapshot)),
    )


def _panels(snapshot: Mapping[str, Any]) -> Iterator[tuple[int, Mapping[str, Any]]]:
    """Give each panel's number with its group, in order."""
    for panel in sorted(snapshot["panels"], key=lambda each: int(each["number"])):
        yield int(panel["number"]), snapshot["groups"][panel["group"]]


def _cloths(snapshot: Mapping[str, Any]) -> Iterator[Cloth]:
    """Give what clients see of panels: linings and backs are the shop's own choice."""
    found: dict[str, list[int]] = {}
    for number, group in _panels(snapshot):
        if group["fabric"]:
            found.setdefault(group["fabric"], []).append(number)
    for key, numbers in found.items():
        facts = snapshot["materials"].get(key, {})
        yield Cloth(key, *_named(facts), panels=tuple(numbers))


def _named(facts: Mapping[str, Any]) -> tuple[str, str, str]:
    """Give a material's name, code and colour; a colour of the screen is none to sign."""
    colour = facts.get("colour") or ""
    return (
        facts.get("name") or "a fabric without a name",
        facts.get("code") or "",
        "" if colour.startswith("#") else colour,
    )


def _reveals(snapshot: Mapping[str, Any]) -> Iterator[Reveal]:
    rooms = {room["id"]: room["name"] for room in snapshot["rooms"]}
    for number, group in _panels(snapshot):
        if snapshot["builds"][group["build"]]["kind"] == PanelKind.REVEAL:
            yield Reveal(number, rooms[group["room"]])


def _rented(rooms: list[Mapping[str, Any]]) -> tuple[str, ...]:
    sites = (room["site"] for room in rooms)
    places = (_place(s) for s in sites if s.get("tenure") == Tenure.TENANT)
    return tuple(dict.fromkeys(places))


def _place(site: Mapping[str, Any]) -> str:
    lines = (site.get("address") or "").splitlines()
    return lines[0] if lines else "The place"


def _unpapered(snapshot: Mapping[str, Any]) -> Iterator[Unpapered]:
    """Give cloth and fill without papers, each once, with the rooms it goes into."""
    asking = {r["id"]: r["name"] for r in snapshot["rooms"] if _asks(r["site"])}
    found: dict[str, dict[str, None]] = {}
    for _, group in _panels(snapshot):
        if name := asking.get(group["room"]):
            for key in cloth_and_fill(group):
                found.setdefault(key, {})[name] = None
    for key, rooms in found.items():
        facts = snapshot["materials"].get(key, {})
        if _may_burn(facts):
            yield Unpapered(key, *_named(facts), rooms=tuple(rooms))


def _asks(site: Mapping[str, Any]) -> bool:
    return site.get("tenure") == Tenure.TENANT or site.get("setting") in SHARED_USE


def cloth_and_fill(group: Mapping[str, Any]) -> Iterator[str]:
    """Give the keys of the cloth and fill of a group, or of one panel's own part."""
    if group["fabric"]:
        yield group["fabric"]
    takeoff = group["takeoff"]
    for part in (*takeoff.get("cloths", ()), *takeoff.get("fills", ())):
        yield part["material"]


def _may_burn(facts: Mapping[str, Any]) -> bool:
    """Whether it is cloth or fill of which nothing was on file."""
    if facts.get("kind") not in (MaterialKind.FABRIC, MaterialKind.FILL):
        return False
    return not (facts.get("fire_class") or facts.get("fire_papers"))
