"""Frozen panels turned into what the van list, the load paths and the cautions need."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any

from jobs.board.adapter import at_size
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
from quotes.specs import frozen
from quotes.specs.engine.model import Driver, Hanging, Takeoff, TakeoffError

CAN_GO = frozenset({Stage.UPHOLSTERED.value, Stage.INSTALLED.value})
"""Stages at which a panel can go."""


@dataclass(frozen=True, slots=True)
class Like:
    """Panels of a job that are alike, with what was frozen of them."""

    key: str
    panels: tuple[Panel, ...]
    snapshot: Mapping[str, Any]
    carried: Carried = field(repr=False)

    @property
    def first(self) -> Panel:
        """The first of them, by number."""
        return self.panels[0]

    @property
    def codes(self) -> tuple[str, ...]:
        """Their codes, in order."""
        return tuple(panel.code for panel in self.panels)

    @property
    def takeoff(self) -> Takeoff:
        """What each is made of."""
        return self.carried.takeoff


def likes(panels: Iterable[Panel]) -> tuple[Like, ...]:
    """Group panels that are made alike, in order of code; reads one snapshot of each.

    Those that were measured at another size are a group of their own, taken off anew.
    `panels` come from `with_group()`. One query.
    """
    groups: dict[tuple[str, int, int], list[Panel]] = {}
    for panel in panels:
        group: str = panel.group  # type: ignore[attr-defined]
        size = (panel.build_width_ticks, panel.build_height_ticks)
        groups.setdefault((group, *size), []).append(panel)
    firsts = Panel.objects.snapshots_of(each[0].pk for each in groups.values())
    return tuple(
        _like(f"{group}-{number}", tuple(each), firsts[each[0].pk])
        for number, ((group, *_), each) in enumerate(groups.items(), start=1)
    )


def _like(key: str, panels: tuple[Panel, ...], snapshot: dict[str, Any]) -> Like:
    """Lay out one group; as quoted where the measured size can't be built."""
    first = panels[0]
    width, height = first.build_width_ticks, first.build_height_ticks
    with suppress(TakeoffError):
        snapshot = at_size(snapshot, width_ticks=width, height_ticks=height)
    return Like(key, panels, snapshot, carried_of(snapshot))


def carried_of(snapshot: Mapping[str, Any]) -> Carried:
    """Read what a panel's snapshot says of how it is made and where it goes."""
    return Carried(
        takeoff=frozen.takeoff_from_json(snapshot["takeoff"]),
        build=frozen.build_from_json(snapshot["build"]),
        materials=snapshot["materials"],
        room=snapshot["room"],
    )


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
