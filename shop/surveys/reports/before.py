"""What to read before leaving: what is missing, and what a later step will need."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from shop.surveys import adapter
from shop.surveys.models import (
    CeilingShape,
    Construction,
    Made,
    Opening,
    OpeningKind,
    Survey,
    Wall,
)

FRAMED = (Construction.BOARD_WOOD, Construction.BOARD_METAL, Construction.LATH)
"""What carries little by itself: panels hang from the studs or joists behind it."""


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
    """Say which walls are not read, and which keep the plan from being drawn."""
    for wall, length in zip(walls, adapter.lengths_of(walls), strict=True):
        if why := adapter.unread(wall, length):
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


def needed(survey: Survey, *, has_photo: bool) -> Iterator[str]:
    """Say what a later step will need of a survey that came `with_parts()`, `with_room()`.

    None of it keeps the room from being drawn.
    """
    walls, room = list(survey.walls.all()), survey.room
    if not room.use:
        yield "What the room is used for: it decides how dry it should sound."
    yield from _framing(survey, walls)
    for wall in walls:
        for opening in wall.openings.all():
            if opening.gets_panel:
                yield from _panel(opening, adapter.label_of(opening, wall))
    if not has_photo:
        yield "A photo: nobody remembers a room in three weeks."
    yield from _site(survey)


def _framing(survey: Survey, walls: Sequence[Wall]) -> Iterator[str]:
    found = {member.wall_id for member in survey.members.all()}
    bare = [wall.name for wall in walls if _is_framed(wall) and wall.pk not in found]
    if bare:
        yield (
            f"Where the studs of wall {', '.join(bare)} are, where panels will go: board"
            " and plaster carry little."
        )
    if _is_framed(survey) and None not in found:
        yield "Where the joists of the ceiling are, should panels hang there."


def _is_framed(surface: Made) -> bool:
    return surface.construction in FRAMED


def _panel(opening: Opening, name: str) -> Iterator[str]:
    if opening.panel_depth_ticks is None:
        yield f"How deep in the reveal of {name} its panel will sit."
    if opening.kind == OpeningKind.WINDOW and not (opening.glass and opening.faces):
        yield f"What glass {name} has, and which way it faces: heat builds up behind a panel."


def _site(survey: Survey) -> Iterator[str]:
    site = survey.room.site
    if site.year_built is None:
        yield "When the house was built: unknown counts as old."
    if not site.tenure:
        yield "Whether they own or rent: a landlord has to agree to holes."
    if site.narrowest_door_ticks is None:
        yield "How wide the narrowest door on the way in is: every panel has to pass it."
