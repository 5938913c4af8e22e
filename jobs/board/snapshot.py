"""Cut a panel's own part out of an accepted revision's snapshot: never any money."""

from __future__ import annotations

import uuid
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

KNOWN_SCHEMAS = frozenset({1})


class UnknownSnapshotError(Exception):
    """The snapshot was written by a version that this one does not know."""


@dataclass(frozen=True, slots=True)
class PanelPart:
    """What a job's panel is made from."""

    planned_panel: uuid.UUID
    number: int
    spec_name: str
    kind: str
    room_name: str
    fabric_name: str
    width_ticks: int
    height_ticks: int
    snapshot: dict[str, Any]


def panel_parts(snapshot: dict[str, Any]) -> Iterator[PanelPart]:
    """Give each panel's part, in order of number.

    Raises
    ------
    UnknownSnapshotError
        When the schema is not one of those known.
    """
    if snapshot.get("schema") not in KNOWN_SCHEMAS:
        raise UnknownSnapshotError(snapshot.get("schema"))
    rooms = {room["id"]: room for room in snapshot["rooms"]}
    for panel in sorted(snapshot["panels"], key=lambda p: int(p["number"])):
        group = snapshot["groups"][panel["group"]]
        yield _part(snapshot, panel=panel, group=group, room=rooms[group["room"]])


def _part(
    snapshot: dict[str, Any],
    *,
    panel: dict[str, Any],
    group: dict[str, Any],
    room: dict[str, Any],
) -> PanelPart:
    build = snapshot["builds"][group["build"]]
    materials = snapshot["materials"]
    fabric = materials.get(group["fabric"] or "", {})
    return PanelPart(
        planned_panel=uuid.UUID(panel["planned_panel"]),
        number=int(panel["number"]),
        spec_name=build["name"],
        kind=build["kind"],
        room_name=room["name"],
        fabric_name=fabric.get("name", ""),
        width_ticks=int(group["width_ticks"]),
        height_ticks=int(group["height_ticks"]),
        snapshot={
            "schema": snapshot["schema"],
            "panel": panel,
            "size": {
                key: group[key]
                for key in ("width_ticks", "width_text", "height_ticks", "height_text")
            },
            "fabric": group["fabric"],
            "build": build,
            "takeoff": group["takeoff"],
            "drawings": group["drawings"],
            "materials": materials,
            "room": room,
            "conventions": _conventions(snapshot["shop"]),
        },
    )


def _conventions(shop: dict[str, Any]) -> dict[str, Any]:
    keys = ("currency", "locale", "unit_system", "fraction", "time_zone", "paper")
    return {key: shop[key] for key in keys}
