"""Surveys as rows, turned into what the engine takes and back."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from string import ascii_uppercase

from django.utils.safestring import SafeString, mark_safe

from shared.conventions import Conventions, current
from shared.forms import TypedLength
from shared.length import show
from shop.surveys import engine
from shop.surveys.engine import (
    CLEARANCE_TICKS,
    QUARTER,
    Ceiling,
    Framing,
    Known,
    OpeningIn,
    Paper,
    Readings,
    RoomIn,
    RoomShape,
    SurveyError,
    Usual,
    WallIn,
    WallLine,
    ZoneIn,
    draw_grid,
    draw_sketch,
    rectangle,
    turn_by_diagonal,
    usual_of,
)
from shop.surveys.engine.asks import UNREAD
from shop.surveys.models import (
    Axis,
    Beam,
    Construction,
    CornerKind,
    Made,
    Opening,
    OpeningKind,
    Reading,
    Room,
    Survey,
    Wall,
    Zone,
)

OWN = "this shop’s own figure"
WALL_NAMES = ("A", "B", "C", "D")

_CORNERS = {QUARTER: CornerKind.RIGHT, -QUARTER: CornerKind.LEFT}
_TURNS = {corner: turn for turn, corner in _CORNERS.items()}


def corner_of(turn_millidegrees: int) -> CornerKind:
    """Return how a corner of a usual shape is known: what is not square is to be read."""
    return _CORNERS.get(turn_millidegrees, CornerKind.ANGLE)


def free_name(survey: Survey) -> str:
    """Return the first letter that no wall of a survey bears, else nothing."""
    taken = {wall.name for wall in survey.walls.all()}
    return next((letter for letter in ascii_uppercase if letter not in taken), "")


def label_of(opening: Opening, wall: Wall) -> str:
    """Name an opening so that it is told from others: its own name, or kind and wall.

    No query for a wall that came with its openings.
    """
    if opening.name:
        return opening.name
    alike = [o.pk for o in wall.openings.all() if o.kind == opening.kind and not o.name]
    number = f" {alike.index(opening.pk) + 1}" if len(alike) > 1 else ""
    return f"{opening.get_kind_display()}{number} in {wall.name}"


def _read(readings: Iterable[Reading], axis: str) -> dict[int, Reading]:
    return {reading.place: reading for reading in readings if reading.axis == axis}


def clearance_of(survey: Survey) -> int:
    """Return what the shop leaves round a panel in an opening, if it came `with_parts()`."""
    own: int | None = getattr(survey, "panel_clearance_ticks", None)
    return CLEARANCE_TICKS[current().unit_system] if own is None else own


def smallest(readings: Iterable[Reading], axis: str) -> Reading | None:
    """Return the smallest reading of a size; nothing when it was not read."""
    return min(_read(readings, axis).values(), key=lambda r: r.ticks, default=None)


def readings_of(opening: Opening) -> Readings | None:
    """Return an opening's readings; nothing while a width or a height is missing."""
    read = list(opening.readings.all())
    widths, heights, diagonals = (_read(read, axis) for axis in Axis.values)
    if not widths or not heights:
        return None
    return Readings(
        tuple(reading.ticks for reading in widths.values()),
        tuple(reading.ticks for reading in heights.values()),
        rising_left_ticks=diagonals[1].ticks if 1 in diagonals else None,
        rising_right_ticks=diagonals[2].ticks if 2 in diagonals else None,
    )


def opening_in(opening: Opening, wall: Wall) -> OpeningIn | None:
    """Return an opening for the engine; nothing while it was not read."""
    readings = readings_of(opening)
    if readings is None:
        return None
    return OpeningIn(
        name=label_of(opening, wall),
        kind=opening.kind,
        readings=readings,
        from_left_ticks=opening.from_left_ticks,
        sill_ticks=opening.sill_ticks,
        gets_panel=opening.gets_panel,
        reveal_depth_ticks=opening.reveal_depth_ticks,
        panel_depth_ticks=opening.panel_depth_ticks,
    )


def usual_for(zone: Zone) -> Usual:
    """Return what is usual for a zone's kind, in this shop where it came `with_usual()`."""
    margin = getattr(zone, "usual_margin_ticks", None)
    if margin is None:
        return usual_of(zone.kind)
    return Usual(
        margin,
        getattr(zone, "usual_width_ticks", None),
        getattr(zone, "usual_height_ticks", None),
        source=OWN,
    )


def zone_size(zone: Zone) -> tuple[int, int] | None:
    """Return how large a zone is, as read or as usual; nothing while neither is known."""
    usual = usual_for(zone)
    width = zone.width_ticks or usual.width_ticks
    height = zone.height_ticks or usual.height_ticks
    return (width, height) if width and height else None


def margin_of(zone: Zone) -> int:
    """Return how much stays clear round a zone, as read or as usual."""
    own: int | None = zone.margin_ticks
    return usual_for(zone).margin_ticks if own is None else own


def zone_in(zone: Zone) -> ZoneIn | None:
    """Return a zone for the engine; nothing while its place or size is not known."""
    size = zone_size(zone)
    if size is None or zone.left_ticks is None or zone.bottom_ticks is None:
        return None
    return ZoneIn(
        zone.note or zone.get_kind_display(),
        zone.left_ticks,
        zone.bottom_ticks,
        *size,
        margin_ticks=margin_of(zone),
    )


def beam_in(beam: Beam) -> engine.Beam | None:
    """Return a beam for the engine; nothing while one of its sizes is not read."""
    if not (beam.length_ticks and beam.width_ticks and beam.drop_ticks):
        return None
    return engine.Beam(str(beam), beam.length_ticks, beam.width_ticks, beam.drop_ticks)


def room_in(survey: Survey) -> RoomIn | None:
    """Return a survey that came `with_parts()` for the engine.

    Nothing with fewer than three walls, or while a length or a corner is not read.
    """
    walls = list(survey.walls.all())
    if len(walls) < 3 or None in lengths_of(walls) or any(map(unread_corner, walls)):
        return None
    zones = [zone_in(zone) for zone in survey.zones.all() if zone.wall_id is None]
    beams = (beam_in(beam) for beam in survey.beams.all())
    return RoomIn(
        walls=tuple(walls_in(survey)),
        height_ticks=survey.height_ticks,
        ceiling_zones=tuple(zone for zone in zones if zone),
        ceiling=Ceiling(survey.ceiling_shape),
        beams=tuple(beam for beam in beams if beam),
        joists=framing_in(survey, survey, wall=None),
    )


def framing_in(surface: Made, survey: Survey, *, wall: Wall | None) -> Framing:
    """Return what was found behind a wall, or in the ceiling where no wall is given."""
    key = wall.pk if wall else None
    found = (
        member.at_ticks for member in survey.members.all() if member.wall_id == key
    )
    return Framing(
        tuple(sorted(at for at in found if at is not None)),
        surface.framing_spacing_ticks,
        surface.framing_run,
    )


def walls_in(survey: Survey) -> Iterator[WallIn]:
    """Yield the walls whose length is known, of a survey that came `with_parts()`."""
    walls, zones = list(survey.walls.all()), list(survey.zones.all())
    followers = [*walls[1:], *walls[:1]]
    for wall, after, length in zip(walls, followers, lengths_of(walls), strict=True):
        if length is not None:
            found = framing_in(wall, survey, wall=wall)
            yield replace(_wall_in(wall, length, after, zones), framing=found)


def lengths_of(walls: Sequence[Wall]) -> list[int | None]:
    """Return the length of each wall in the order of the walk, where it is known.

    Two numbers make a rectangle: of four walls with square corners, one that is not read
    is taken to be as long as the one opposite.
    """
    read = [wall.length_ticks for wall in walls]
    if len(walls) != 4 or {wall.corner for wall in walls} != {CornerKind.RIGHT}:
        return read
    return [read[n - 2] if length is None else length for n, length in enumerate(read)]


def unread_corner(wall: Wall) -> str:
    """Say what is not read of the corner at a wall's end; empty when nothing is missing."""
    if wall.corner == CornerKind.DIAGONAL and wall.diagonal_ticks is None:
        return UNREAD["diagonal"]
    if wall.corner == CornerKind.ANGLE and not has_angle(wall):
        return UNREAD["angle"]
    return ""


def has_angle(wall: Wall) -> bool:
    """Whether an angle was read: a right one stands for none."""
    return abs(wall.turn_millidegrees) != QUARTER


def turn_of(wall: Wall, after: Wall) -> int | None:
    """Return the turn at a wall's end in millidegrees; nothing where its diagonal can't be.

    A diagonal is worked out anew: it hangs on the walls on both sides. One that is not
    read, or whose walls are not, leaves the turn as it was stored.
    """
    if wall.corner in _TURNS:
        return _TURNS[CornerKind(wall.corner)]
    sides = (wall.length_ticks, after.length_ticks, wall.diagonal_ticks)
    if wall.corner == CornerKind.ANGLE or None in sides:
        return wall.turn_millidegrees
    try:
        return turn_by_diagonal(*(side for side in sides if side is not None))
    except SurveyError:
        return None


def _wall_in(
    wall: Wall, length_ticks: int, after: Wall, zones: Sequence[Zone]
) -> WallIn:
    openings = (opening_in(opening, wall) for opening in wall.openings.all())
    places = (zone_in(zone) for zone in zones if zone.wall_id == wall.pk)
    turn = turn_of(wall, after)
    return WallIn(
        name=wall.name,
        line=WallLine(
            length_ticks,
            wall.turn_millidegrees if turn is None else turn,
            angle_read=wall.corner in (CornerKind.ANGLE, CornerKind.DIAGONAL),
        ),
        tie_fails=turn is None,
        height_ticks=wall.height_ticks,
        openings=tuple(opening for opening in openings if opening),
        zones=tuple(zone for zone in places if zone),
    )


def known_of(room: Room, survey: Survey | None) -> Known:
    """Gather what cautions hang on; a room that nobody measured may have a window."""
    if survey is None:
        return Known(sleeping_or_basement=room.sleeping_or_basement)
    walls = list(survey.walls.all())
    openings = [opening for wall in walls for opening in wall.openings.all()]
    windows = [o for o in openings if o.kind == OpeningKind.WINDOW]
    return Known(
        sleeping_or_basement=room.sleeping_or_basement,
        has_window=bool(windows),
        ceiling=survey.construction,
        constructions=frozenset(w.construction for w in walls if w.construction),
        heated=survey.heated or any(wall.heated for wall in walls),
        panes=frozenset((w.glass, w.faces) for w in windows if w.gets_panel),
        zones=frozenset(zone.kind for zone in survey.zones.all()),
    )


def paper_for(survey: Survey, conventions: Conventions) -> Paper:
    """Say how a survey's plan is written."""
    return Paper(
        key=f"plan-{survey.pk.hex[:12]}",
        title=f"{survey.room.name}, survey {survey.revision}",
        units=conventions.unit_system,
        fraction=conventions.fraction,
    )


def blank_grid(*, metric: bool) -> SafeString:
    """Return squared paper to sketch a plan on."""
    return mark_safe(draw_grid(metric=metric))  # noqa: S308 - nothing in it was typed


def shown(ticks: int, conventions: Conventions) -> str:
    """Print a length in a sentence."""
    return show(ticks, units=conventions.unit_system, fraction=conventions.fraction)


def rectangle_walls(
    survey: Survey, *, length: TypedLength, width: TypedLength, construction: str
) -> list[Wall]:
    """Make the four walls of a rectangular room, A to D, clockwise."""
    lines = rectangle(length.ticks, width.ticks)
    texts = (length.text, width.text, length.text, width.text)
    return [
        Wall(
            survey=survey,
            position=position,
            name=name,
            length_ticks=line.length_ticks,
            length_text=text,
            turn_millidegrees=line.turn_millidegrees,
            construction=Construction(construction),
        )
        for position, (name, line, text) in enumerate(
            zip(WALL_NAMES, lines, texts, strict=True)
        )
    ]


def shaped_walls(
    survey: Survey,
    shape: RoomShape,
    lengths: Sequence[TypedLength],
    *,
    inside_millidegrees: int,
    construction: str,
) -> list[Wall]:
    """Make the walls of a usual shape, in the order of the walk."""
    turns = shape.turns_at(inside_millidegrees)
    return [
        Wall(
            survey=survey,
            position=position,
            name=name,
            length_ticks=length.ticks,
            length_text=length.text,
            corner=corner_of(turn),
            turn_millidegrees=turn,
            construction=Construction(construction),
        )
        for position, (name, length, turn) in enumerate(
            zip(shape.names, lengths, turns, strict=True)
        )
    ]


def sketch_of(shape: RoomShape) -> SafeString:
    """Draw a shape with its walls' letters."""
    paper = Paper("shape", f"Walls of the {shape.label}", current().unit_system)
    return mark_safe(draw_sketch(shape.sample(), paper))  # noqa: S308 - nothing typed
