"""What changed from one survey of a room to another, followed by lineage."""

from __future__ import annotations

import uuid
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from shared.conventions import current
from shop.surveys import adapter
from shop.surveys.models import (
    Beam,
    CornerKind,
    FurnitureKind,
    Made,
    Member,
    Opening,
    Spot,
    Survey,
    Wall,
    Zone,
)
from shop.surveys.reports.inside import CoveringRow, inside

NOTHING = "nothing"
NOT_READ = "not read"
USUAL = "as usual"
FURNITURE = uuid.UUID(int=0)
"""Stands for what is counted, which is one thing in every survey."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that differs: of what, which figure, before and now."""

    of: str
    what: str
    before: str
    now: str


Shown = dict[str, str]


def differences(before: Survey, now: Survey) -> tuple[Difference, ...]:
    """Return what differs between two surveys that came `with_inside()`. No query."""
    old, new = _parts(before), _parts(now)
    found: list[Difference] = []
    for lineage in dict.fromkeys([*new, *old]):
        found += _between(old.get(lineage), new.get(lineage))
    return tuple(found)


def _between(
    old: tuple[str, Shown] | None, new: tuple[str, Shown] | None
) -> Iterator[Difference]:
    if new is None and old is not None:
        yield Difference(old[0], "", "there", "gone")
    elif old is None and new is not None:
        yield Difference(new[0], "", "not there", "new")
    elif old is not None and new is not None:
        for what, now in new[1].items():
            if old[1][what] != now:
                yield Difference(new[0], what, old[1][what], now)


def _parts(survey: Survey) -> dict[uuid.UUID, tuple[str, Shown]]:
    """Return every part of a survey by lineage, with what is compared of it."""
    # The room and its ceiling have no lineage: they are the same in every survey.
    found = {survey.room_id: ("Room", _room(survey))}
    walls = {wall.pk: wall for wall in survey.walls.all()}
    for wall in walls.values():
        found[wall.lineage] = (f"Wall {wall.name}", _wall(wall))
        for opening in wall.openings.all():
            found[opening.lineage] = (
                _named(adapter.label_of(opening, wall)),
                _opening(opening, wall),
            )
    for zone in survey.zones.all():
        where = walls[zone.wall_id] if zone.wall_id else None
        place = f"on {where.name}" if where else "on the ceiling"
        found[zone.lineage] = _named(f"{zone} {place}"), _zone(zone, where)
    for beam in survey.beams.all():
        found[beam.lineage] = _named(str(beam)), _beam(beam)
    for member in survey.members.all():
        where = walls[member.wall_id] if member.wall_id else None
        place = f"in wall {where.name}" if where else "in the ceiling"
        found[member.lineage] = _named(f"{member} {place}"), _member(member, place)
    return found | _inside(survey)


def _inside(survey: Survey) -> dict[uuid.UUID, tuple[str, Shown]]:
    """Return finishes, furniture and places; furniture has no lineage but its kind."""
    found = {}
    for row in inside(survey).coverings:
        found[row.covering.lineage] = f"Finish of {row.place}", _covering(row)
    for spot in survey.spots.all():
        found[spot.lineage] = _named(str(spot)), _spot(spot)
    counted = {row.kind: row.count for row in survey.furniture.all()}
    shown = {
        str(label): str(counted.get(str(kind), 0))
        for kind, label in FurnitureKind.choices
    }
    found[FURNITURE] = "Furniture", shown
    return found


def _named(text: str) -> str:
    return text[:1].upper() + text[1:]


def _length(ticks: int | None) -> str:
    return NOT_READ if ticks is None else adapter.shown(ticks, current())


def _or_usual(ticks: int | None) -> str:
    return USUAL if ticks is None else adapter.shown(ticks, current())


def _made(surface: Made) -> Shown:
    return {
        "made of": surface.get_construction_display(),
        "board thickness": _length(surface.board_thickness_ticks),
        "framing spacing": _length(surface.framing_spacing_ticks),
        "framing runs": surface.get_framing_run_display(),
        "heated": _yes(surface.heated),
    }


def _yes(truth: Any) -> str:
    return "yes" if truth else "no"


def _room(survey: Survey) -> Shown:
    made = {f"ceiling, {what}": text for what, text in _made(survey).items()}
    return {
        "ceiling height": _length(survey.height_ticks),
        "shape of the ceiling": survey.get_ceiling_shape_display(),
        **made,
        "notes": survey.notes or NOTHING,
    }


def _wall(wall: Wall) -> Shown:
    return {
        "name": wall.name,
        "length": _length(wall.length_ticks),
        "ceiling height at its left": _length(wall.height_ticks),
        "corner at its end": _corner(wall),
        "diagonal over the corner": _length(wall.diagonal_ticks),
        **_made(wall),
    }


def _corner(wall: Wall) -> str:
    if wall.corner != CornerKind.ANGLE:
        return str(wall.get_corner_display())
    return f"{180 - wall.turn_millidegrees / 1000:g}° inside"


def _beam(beam: Beam) -> Shown:
    return {
        "kind": beam.get_kind_display(),
        "length": _length(beam.length_ticks),
        "width": _length(beam.width_ticks),
        "hangs down": _length(beam.drop_ticks),
        "note": beam.note or NOTHING,
    }


def _opening(opening: Opening, wall: Wall) -> Shown:
    read = {
        (reading.axis, reading.place): reading.ticks
        for reading in opening.readings.all()
    }
    sizes = {
        f"{axis} {place}": _length(read.get((axis, place)))
        for axis, most in (("width", 3), ("height", 3), ("diagonal", 2))
        for place in range(1, most + 1)
    }
    return {
        "name": opening.name or NOTHING,
        "wall": wall.name,
        "kind": opening.get_kind_display(),
        "from the left": _length(opening.from_left_ticks),
        "sill": _length(opening.sill_ticks),
        **sizes,
        "depth of the reveal": _length(opening.reveal_depth_ticks),
        "depth of the panel": _length(opening.panel_depth_ticks),
        "in the way": opening.obstructions or NOTHING,
        "glass": opening.get_glass_display(),
        "faces": opening.get_faces_display(),
        "gets a panel": _yes(opening.gets_panel),
        "must open": _yes(opening.must_open),
    }


def _zone(zone: Zone, wall: Wall | None) -> Shown:
    return {
        "place": wall.name if wall else "ceiling",
        "kind": zone.get_kind_display(),
        "from the left": _length(zone.left_ticks),
        "from below": _length(zone.bottom_ticks),
        "width": _or_usual(zone.width_ticks),
        "height": _or_usual(zone.height_ticks),
        "kept clear round it": _or_usual(zone.margin_ticks),
        "note": zone.note or NOTHING,
    }


def _member(member: Member, place: str) -> Shown:
    return {
        "place": place,
        "its centre": _length(member.at_ticks),
        "note": member.note or NOTHING,
    }


def _covering(row: CoveringRow) -> Shown:
    return {
        "on": row.place,
        "finish": row.finish,
        "width of the part": _length(row.covering.width_ticks),
        "height of the part": _length(row.covering.height_ticks),
        "note": row.covering.note or NOTHING,
    }


def _spot(spot: Spot) -> Shown:
    return {
        "name": spot.name or NOTHING,
        "kind": spot.get_kind_display(),
        "from the last wall": _length(spot.left_ticks),
        "from the first wall": _length(spot.bottom_ticks),
        "above the floor": _length(spot.height_ticks),
        "width": _length(spot.width_ticks),
    }
