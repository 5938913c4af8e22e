"""Surveys as rows, turned into what the engine takes and back."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from string import ascii_uppercase

from django.utils.safestring import SafeString, mark_safe

from shared.conventions import Conventions, current
from shared.forms import TypedLength
from shared.length import show
from shop.surveys import engine
from shop.surveys.engine import (
    QUARTER,
    Ceiling,
    Known,
    OpeningIn,
    Paper,
    Readings,
    RoomIn,
    RoomShape,
    SurveyError,
    WallIn,
    WallLine,
    ZoneIn,
    draw_grid,
    draw_sketch,
    rectangle,
    turn_by_diagonal,
)
from shop.surveys.models import (
    Axis,
    Construction,
    CornerKind,
    Opening,
    OpeningKind,
    Reading,
    Room,
    Survey,
    Wall,
    Zone,
)

WALL_NAMES = ("A", "B", "C", "D")

_CORNERS = {QUARTER: CornerKind.RIGHT, -QUARTER: CornerKind.LEFT}


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
    )


def _zone_in(zone: Zone) -> ZoneIn:
    return ZoneIn(
        zone.note or zone.get_kind_display(),
        zone.left_ticks,
        zone.bottom_ticks,
        zone.width_ticks,
        zone.height_ticks,
    )


def room_in(survey: Survey) -> RoomIn | None:
    """Return a survey that came `with_parts()` for the engine; nothing without walls."""
    walls, zones = list(survey.walls.all()), list(survey.zones.all())
    if len(walls) < 3:
        return None
    following = [*walls[1:], walls[0]]
    return RoomIn(
        walls=tuple(
            _wall_in(wall, after, zones)
            for wall, after in zip(walls, following, strict=True)
        ),
        height_ticks=survey.height_ticks,
        ceiling_zones=tuple(_zone_in(zone) for zone in zones if zone.wall_id is None),
        ceiling=Ceiling(survey.ceiling_shape),
        beams=tuple(
            engine.Beam(str(beam), beam.length_ticks, beam.width_ticks, beam.drop_ticks)
            for beam in survey.beams.all()
        ),
    )


def turn_of(wall: Wall, after: Wall) -> int | None:
    """Return the turn at a wall's end in millidegrees; nothing where its diagonal can't be.

    A diagonal is worked out anew: it hangs on the walls on both sides.
    """
    if wall.corner != CornerKind.DIAGONAL or wall.diagonal_ticks is None:
        return wall.turn_millidegrees
    try:
        return turn_by_diagonal(
            wall.length_ticks, after.length_ticks, wall.diagonal_ticks
        )
    except SurveyError:
        return None


def _wall_in(wall: Wall, after: Wall, zones: Sequence[Zone]) -> WallIn:
    openings = (opening_in(opening, wall) for opening in wall.openings.all())
    turn = turn_of(wall, after)
    return WallIn(
        name=wall.name,
        line=WallLine(
            wall.length_ticks,
            wall.turn_millidegrees if turn is None else turn,
            angle_read=wall.corner in (CornerKind.ANGLE, CornerKind.DIAGONAL),
        ),
        tie_fails=turn is None,
        height_ticks=wall.height_ticks,
        openings=tuple(opening for opening in openings if opening),
        zones=tuple(_zone_in(zone) for zone in zones if zone.wall_id == wall.pk),
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
        panel_in_window=any(window.gets_panel for window in windows),
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
            corner=_CORNERS.get(turn, CornerKind.ANGLE),
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
