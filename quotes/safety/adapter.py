"""A frozen panel turned into what its load path is worked out from."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from quotes.safety.engine import (
    At,
    Building,
    Frame,
    Hardware,
    Held,
    Hung,
    LoadPath,
    OnBattens,
    OnCleats,
    Rated,
    SafetyError,
    load_path,
)
from quotes.specs import frozen
from quotes.specs.engine.model import (
    Build,
    Driver,
    Edge,
    Hanging,
    ItemCount,
    ItemRole,
    PartRole,
    Takeoff,
)
from shared.length import TICKS_PER_M, UnitSystem

HOLLOW = re.compile(r"hollow|cavity|toggle|drywall|plasterboard|gypsum", re.IGNORECASE)
"""Names of what holds in board alone."""

SURFACE_OF = {
    Hanging.CHAIN: "ceiling",
    Hanging.CLEAT: "wall",
    Hanging.BATTENS: "wall",
}
"""What a panel is fixed to; a panel in its opening, or on feet, is fixed to nothing."""

_OF_NO_WEIGHT = frozenset(
    {"name", "front_fabric", "front_lining", "back_fabric", "operations"}
)
"""Parts of a build that no load depends on: changing them leaves a statement standing."""


@dataclass(frozen=True, slots=True)
class Carried:
    """A panel as its job froze it."""

    takeoff: Takeoff
    build: Build
    materials: Mapping[str, Mapping[str, Any]]
    room: Mapping[str, Any]

    @property
    def hanging(self) -> Hanging:
        """What holds it up."""
        return self.takeoff.hang.kind

    @property
    def surface(self) -> str:
        """What it is fixed to: wall, ceiling or nothing."""
        return SURFACE_OF.get(self.hanging, "")

    @property
    def constructions(self) -> frozenset[str]:
        """What that may be made of; empty text is a surface nobody has looked at."""
        if self.surface == "ceiling":
            return frozenset({self.room.get("ceiling", {}).get("construction", "")})
        walls = self.room.get("walls", ())
        return frozenset(wall["construction"] for wall in walls) or frozenset({""})

    @property
    def subjects(self) -> Subjects:
        """What the shop has to state itself."""
        mark = _mark(self.build)
        room = self.room.get("id", "")
        return Subjects(
            framing=f"framing:{room}:{self.surface}",
            frame=f"frame:{mark}",
            joint=f"joint:{mark}",
        )


@dataclass(frozen=True, slots=True)
class Subjects:
    """Names under which statements are kept."""

    framing: str
    frame: str
    joint: str


def _mark(build: Build) -> str:
    """Mark a build by what carries: another build of the same name is another."""
    facts = frozen.to_json(build)
    kept = {name: facts[name] for name in facts if name not in _OF_NO_WEIGHT}
    text = json.dumps(kept, sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()[:24]


def subjects_of(carried: Carried) -> tuple[str, ...]:
    """Name everything about this panel that somebody may have stated."""
    own = carried.subjects
    items = (f"item:{item.material}" for item in carried.takeoff.items)
    return (own.framing, own.frame, own.joint, *items)


def panel_path(
    carried: Carried, stated: Mapping[str, Rated], *, units: UnitSystem
) -> LoadPath | None:
    """Work out a panel's load path; nothing for one that is not fixed to the building.

    A panel of whose figures no path follows gives one that is not cleared and says why.
    """
    try:
        held = _held(carried, stated)
        return load_path(held, units=units) if held else None
    except SafetyError as refused:
        words = refused.message[:1].lower() + refused.message[1:].rstrip(".")
        return LoadPath(weight_n=0.0, elements=(), missing=(words,), assumed=())


def _held(carried: Carried, stated: Mapping[str, Rated]) -> Held | None:
    match carried.hanging:
        case Hanging.CHAIN:
            return _hung(carried, stated)
        case Hanging.CLEAT:
            return _on_cleats(carried, stated)
        case Hanging.BATTENS:
            return _on_battens(carried, stated)
        case _:
            return None


def _hung(carried: Carried, stated: Mapping[str, Rated]) -> Hung:
    takeoff = carried.takeoff
    centre = takeoff.mass.centre
    return Hung(
        mass_kg=takeoff.mass.total_kg,
        points=tuple(_at(p.x_ticks, p.y_ticks) for p in takeoff.hang.points),
        centre=_at(centre.x_ticks, centre.y_ticks),
        hardware=tuple(_hardware(carried, _carrying(takeoff), stated)),
        building=_building(carried, stated),
        frame=_frame(carried, stated, blocked=carried.build.blocking is not None),
    )


def _at(x_ticks: int, y_ticks: int) -> At:
    return At(x_ticks / TICKS_PER_M, y_ticks / TICKS_PER_M)


def _on_cleats(carried: Carried, stated: Mapping[str, Rated]) -> OnCleats:
    """Take the lowest cleat's lower edge for its height: the arm is never overstated."""
    takeoff = carried.takeoff
    lowest = max(cleat.below_top_ticks for cleat in takeoff.hang.wall_cleats)
    face = max(p.long_face_ticks for p in takeoff.parts_of(PartRole.WALL_CLEAT))
    behind = takeoff.frame.depth_ticks - takeoff.mass.centre.z_ticks
    return OnCleats(
        mass_kg=takeoff.mass.total_kg,
        off_wall_m=behind / TICKS_PER_M,
        arm_m=(takeoff.frame.height_ticks - lowest - face) / TICKS_PER_M,
        bevel_deg=max(
            brace.bevel_deg
            for brace in carried.build.braces
            if brace.edge is Edge.BEVELLED
        ),
        hardware=tuple(_hardware(carried, _carrying(takeoff), stated)),
        building=_building(carried, stated),
        frame=_frame(carried, stated, blocked=True),
    )


def _on_battens(carried: Carried, stated: Mapping[str, Rated]) -> OnBattens:
    """Take all that goes up with it: nothing else joins it to the battens."""
    takeoff = carried.takeoff
    joins = [i for i in takeoff.items if i.for_site and i.role is ItemRole.HARDWARE]
    return OnBattens(
        mass_kg=takeoff.mass.total_kg,
        hardware=tuple(_hardware(carried, joins, stated)),
        building=_building(carried, stated),
    )


def _carrying(takeoff: Takeoff) -> list[ItemCount]:
    """Give what carries, from the building down: builds name it from the panel up."""
    carrying = [item for item in takeoff.items if item.in_load_path]
    site = [item for item in carrying if item.for_site]
    return [*reversed(site), *(item for item in carrying if not item.for_site)]


def _hardware(
    carried: Carried, items: list[ItemCount], stated: Mapping[str, Rated]
) -> Iterator[Hardware]:
    """Give bought parts with the rating that was frozen, or stated since."""
    for item in items:
        facts = carried.materials[item.material]
        name = str(facts["name"])
        subject = f"item:{item.material}"
        yield Hardware(
            name=name[:1].lower() + name[1:],
            # what is counted once for the whole job says nothing about this panel
            count=0.0 if item.driver is Driver.JOB else float(item.quantity),
            rating=stated.get(subject) or _rating(facts),
            subject=subject,
            each_hole=item.driver is Driver.SCREW_HOLE,
            hollow=bool(HOLLOW.search(name)),
            unit=str(facts.get("unit") or "each"),
            per_job=item.driver is Driver.JOB,
        )


def _rating(facts: Mapping[str, Any]) -> Rated | None:
    load = facts.get("rated_load_n")
    return Rated(float(load), str(facts.get("rating_source") or "")) if load else None


def _building(carried: Carried, stated: Mapping[str, Rated]) -> Building:
    return Building(
        surface=carried.surface,
        constructions=carried.constructions,
        rating=stated.get(carried.subjects.framing),
        subject=carried.subjects.framing,
    )


def _frame(carried: Carried, stated: Mapping[str, Rated], *, blocked: bool) -> Frame:
    subjects = carried.subjects
    return Frame(
        blocked=blocked,
        glued=carried.build.glued,
        rating=stated.get(subjects.frame),
        joint_rating=stated.get(subjects.joint),
        subject=subjects.frame,
        joint_subject=subjects.joint,
    )
