"""Frozen panels turned into what the van list, the load paths and the cautions need."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from jobs.board.adapter import Like
from jobs.board.models import Panel, Stage
from jobs.board.reports import size_words
from jobs.visits.engine import (
    Holding,
    Load,
    Site,
    VanItem,
    VanPanel,
    VanPiece,
    VanRoom,
)
from quotes.safety.adapter import HOLLOW, Carried
from quotes.specs.engine.model import Driver, Hanging, Takeoff

CAN_GO = frozenset({Stage.UPHOLSTERED.value, Stage.INSTALLED.value})
"""Stages at which a panel can go."""


def load_of(groups: Iterable[Like]) -> Load:
    """Turn panels into what the van list is worked out from."""
    groups = tuple(groups)
    panels = (_van_panel(panel, group) for group in groups for panel in group.panels)
    return Load(
        panels=tuple(sorted(panels, key=lambda panel: panel.code)),
        rooms=tuple({room.id: room for room in map(_van_room, groups)}.values()),
    )


def _van_panel(panel: Panel, group: Like) -> VanPanel:
    takeoff = group.takeoff
    return VanPanel(
        code=panel.code,
        what=panel.spec_name,
        size=size_words(panel.build_width_ticks, panel.build_height_ticks),
        room=panel.room_name,
        room_id=group.carried.room["id"],
        holding=Holding(takeoff.hang.kind),
        mass_kg=takeoff.mass.panel_kg,
        one_person_kg=group.carried.build.one_person_kg,
        holes=int(takeoff.count_of(Driver.SCREW_HOLE)),
        items=tuple(_items(group)),
        pieces=tuple(_pieces(takeoff)),
        not_ready=not_ready(panel),
    )


def not_ready(panel: Panel) -> str:
    """Say what a panel still waits for before it can go; nothing if it can."""
    if panel.stage not in CAN_GO:
        return "not upholstered yet"
    if panel.rework:
        return f"rework: {panel.rework}"
    return f"waits for {panel.waiting_for}" if panel.waiting_for else ""


def _items(group: Like) -> Iterator[VanItem]:
    """Give what goes up with the panel; what is on it already rides along."""
    for item in group.takeoff.items:
        if item.for_site:
            facts = group.carried.materials[item.material]
            yield VanItem(
                material=item.material,
                name=facts["name"],
                unit=facts["unit"],
                quantity=item.quantity,
                spare=item.spare,
                once=item.driver is Driver.JOB,
            )


def _pieces(takeoff: Takeoff) -> Iterator[VanPiece]:
    for part in takeoff.parts:
        if not part.on_panel:
            yield VanPiece(part.label, part.cut_length_ticks, part.count)


def _van_room(group: Like) -> VanRoom:
    room = group.carried.room
    walls = frozenset(wall["construction"] for wall in room.get("walls", ()))
    return VanRoom(
        id=room["id"],
        name=room["name"],
        walls=walls or frozenset({""}),
        ceiling=room.get("ceiling", {}).get("construction", ""),
    )


def place_of(groups: Iterable[Like]) -> Site:
    """Gather what the fitter's cautions hang on."""
    groups = tuple(groups)
    carried = [group.carried for group in groups]
    rooms = [each.room for each in carried]
    years = {room.get("site", {}).get("year_built") for room in rooms}
    drilled = [each for each in carried if each.surface]
    return Site(
        holdings=frozenset(Holding(each.hanging) for each in carried),
        surfaces=frozenset().union(*(each.constructions for each in drilled)),
        year_built=None if None in years or not years else min(years),
        too_heavy=any(
            each.takeoff.mass.panel_kg > each.build.one_person_kg for each in carried
        ),
        heated=any(_heated(each) for each in drilled),
        escape_window=any(
            each.hanging is Hanging.EDGE and each.room.get("sleeping_or_basement")
            for each in carried
        ),
        hollow_anchors=any(
            HOLLOW.search(each.materials[item.material]["name"])
            for each in carried
            for item in each.takeoff.items
            if item.for_site
        ),
        zones=frozenset(zone for room in rooms for zone in room.get("zones", ())),
    )


def _heated(carried: Carried) -> bool:
    """Whether the surface that is drilled may be heated."""
    if carried.surface == "ceiling":
        return bool(carried.room.get("ceiling", {}).get("heated"))
    return any(wall.get("heated") for wall in carried.room.get("walls", ()))
