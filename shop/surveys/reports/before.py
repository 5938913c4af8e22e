"""What to read before leaving: what a later step will need and nobody has written down."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from shop.surveys import adapter
from shop.surveys.models import (
    CeilingShape,
    Construction,
    Opening,
    OpeningKind,
    Survey,
    Wall,
)


def missing(survey: Survey, walls: Sequence[Wall]) -> Iterator[str]:
    """Say what is missing in a survey that came `with_parts()`, the room first."""
    yield from unread_walls(walls)
    yield from _heights(survey, walls)
    unknown = [w.name for w in walls if w.construction == Construction.UNKNOWN]
    if unknown:
        yield f"What wall {', '.join(unknown)} is made of: it decides how panels hang."
    if survey.construction == Construction.UNKNOWN:
        yield "What the ceiling is made of."
    for wall in walls:
        for opening in wall.openings.all():
            yield from _opening(opening, adapter.label_of(opening, wall))
    yield from _boxes(survey, walls)


def unread_walls(walls: Sequence[Wall]) -> Iterator[str]:
    """Say which walls keep the plan from being drawn."""
    for wall in walls:
        if why := adapter.unread(wall):
            yield f"Wall {wall.name}: {why}."


def _boxes(survey: Survey, walls: Sequence[Wall]) -> Iterator[str]:
    """Say which places, studs and beams are not read."""
    names = {wall.pk: f"wall {wall.name}" for wall in walls}
    for zone in survey.zones.all():
        where = names[zone.wall_id] if zone.wall_id else "the ceiling"
        if zone.left_ticks is None or zone.bottom_ticks is None:
            yield f"Where on {where} the {zone} is."
        if adapter.zone_size(zone) is None:
            yield f"How large the {zone} on {where} is."
    for member in survey.members.all():
        if member.at_ticks is None:
            where = names[member.wall_id] if member.wall_id else "the ceiling"
            yield f"Where the {member} in {where} is."
    for beam in survey.beams.all():
        if adapter.beam_in(beam) is None:
            yield f"Length, width and drop of the {beam}."


def _heights(survey: Survey, walls: Sequence[Wall]) -> Iterator[str]:
    unread = [wall.name for wall in walls if wall.height_ticks is None]
    if survey.ceiling_shape == CeilingShape.FLAT:
        if survey.height_ticks is None:
            yield "The height of the ceiling."
    elif survey.ceiling_shape == CeilingShape.SLOPE:
        if len(walls) - len(unread) < 3:
            yield "The height of the sloping ceiling at three corners or more."
    elif unread:
        yield f"The height of the ceiling at the left corner of wall {', '.join(unread)}."


def _opening(opening: Opening, name: str) -> Iterator[str]:
    if opening.from_left_ticks is None:
        yield f"How far {name} is from the left corner."
    if opening.sill_ticks is None and opening.kind != OpeningKind.DOOR:
        yield f"How high the sill of {name} is above the floor."
    if adapter.readings_of(opening) is None:
        yield f"The width and the height of {name}."
    if opening.gets_panel and opening.reveal_depth_ticks is None:
        yield f"How deep the reveal of {name} is: it gets a panel."
