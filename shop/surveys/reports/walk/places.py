"""Places to keep clear, studs and joists that were found, and beams, on the walk."""

from __future__ import annotations

from shared.conventions import current
from shop.surveys import adapter
from shop.surveys.engine import USUAL, Usual
from shop.surveys.models import BeamKind, Zone, ZoneKind, ZoneRule
from shop.surveys.reports.walk.fields import REMOVED, Field, Kind

COMMON = (ZoneKind.OUTLET, ZoneKind.SWITCH, ZoneKind.RADIATOR, ZoneKind.THERMOSTAT)
"""What is on most walls: one tap each."""
OVERHEAD = (ZoneKind.DOWNLIGHT, ZoneKind.DETECTOR, ZoneKind.SPRINKLER, ZoneKind.SUPPLY)
"""What is on most ceilings."""

ZONE = Kind(
    "zone",
    (
        Field("left", "From the left", needed=True),
        Field("bottom", "From below", needed=True),
        Field("width", "Width"),
        Field("height", "Height"),
        Field("margin", "Kept clear round it"),
        Field("kind", "What it is", "choice", choices=tuple(ZoneKind.choices)),
        Field("note", "Note", "line"),
        REMOVED,
    ),
)

MEMBER = Kind(
    "member",
    (
        Field("at", "Its centre, from the left", needed=True),
        Field("note", "What found it", "line"),
        REMOVED,
    ),
)

BEAM = Kind(
    "beam",
    (
        Field("length", "Length", needed=True),
        Field("width", "Width", needed=True),
        Field("drop", "How far it hangs down", needed=True),
        Field("kind", "What it is", "choice", choices=tuple(BeamKind.choices)),
        Field("note", "Note", "line"),
        REMOVED,
    ),
)


def usual_kinds() -> dict[str, Usual]:
    """Return what is usual for each kind, in this shop. One query."""
    own = {
        rule.kind: Usual(
            rule.margin_ticks, rule.width_ticks, rule.height_ticks, adapter.OWN
        )
        for rule in ZoneRule.objects.all()
    }
    return USUAL | own


def hints_for(usual: Usual) -> dict[str, str]:
    """Write what counts for a zone while nothing is typed."""
    sides = {
        "width": usual.width_ticks,
        "height": usual.height_ticks,
        "margin": usual.margin_ticks,
    }
    conventions = current()
    return {
        name: adapter.shown(ticks, conventions)
        for name, ticks in sides.items()
        if ticks is not None
    }


def zone_title(zone: Zone, where: str) -> str:
    """Name a place to keep clear."""
    return f"{zone.get_kind_display()}, {where}"
