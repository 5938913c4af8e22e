"""What contradicts itself in a survey: told, never in the way of anything."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from shared.length import TICKS_PER_M, TICKS_PER_MM
from shop.surveys.engine.adjust import TURN_LIMIT, crossing, suspects
from shop.surveys.engine.ceiling import Ceiling
from shop.surveys.engine.findings import Finding, fixed, listed
from shop.surveys.engine.framing import odd_gap
from shop.surveys.engine.opening import (
    DIAGONAL_LIMIT_TICKS,
    SPREAD_LIMIT_TICKS,
    Readings,
    Shape,
    ideal_diagonal_ticks,
    mean_diagonal_ticks,
)
from shop.surveys.engine.outline import FULL_TURN
from shop.surveys.engine.room import OpeningIn, RoomIn, WallIn, ZoneIn

VERSION = "checks-3"

LOW_DOOR_TICKS = 18 * TICKS_PER_M // 10
"""A doorway below 1.8 m is more likely a slip than a door (common practice)."""

HEIGHT_LIMIT_TICKS = 10 * TICKS_PER_MM
"""Ceiling heights that differ by more are told (common practice; a laser errs by 1.5 mm)."""

CLOSING_LIMIT_TICKS = 10 * TICKS_PER_MM
"""A closing error above this is told (common practice)."""

ANGLE_LIMIT = 2_000
"""Corners that miss a full turn by more, in millidegrees, are told (common practice; a
bevel gauge reads to half a degree)."""

DIAGONAL_SHARE = 0.01
"""Diagonals further than a hundredth from the sizes they belong to are told (as above)."""


def contradictions(room: RoomIn) -> tuple[Finding, ...]:
    """Return what contradicts itself in a survey, the room first, then wall by wall.

    Parameters
    ----------
    room
        The room as measured, lengths in ticks.

    Returns
    -------
    tuple of Finding
        Empty when nothing does. What was not measured contradicts nothing.
    """
    found = [*_turns(room), *_closing(room), *_crossing(room)]
    found += contradictions_on(
        room.walls, height_ticks=room.height_ticks, ceiling=room.ceiling
    )
    found += [
        Finding("zone_outside", zone.name)
        for zone in room.ceiling_zones
        if not room.holds(zone)
    ]
    found += _joists(room)
    return tuple(found)


def contradictions_on(
    walls: Sequence[WallIn],
    *,
    height_ticks: int | None,
    ceiling: Ceiling = Ceiling.FLAT,
) -> tuple[Finding, ...]:
    """Return what contradicts itself on walls alone, some of the room being unread yet.

    Parameters
    ----------
    walls
        Those that were read, in the order of the walk.
    height_ticks, ceiling
        The ceiling's height, where it was read, and its shape.
    """
    found = list(_heights(walls, height_ticks, ceiling))
    found += [Finding("tie", wall=wall.name) for wall in walls if wall.tie_fails]
    for wall in walls:
        height = wall.height_ticks or height_ticks
        for opening in wall.openings:
            found += _place(opening, wall, height)
            found += trueness(opening)
            found += _reveal(opening)
        found += _overlaps(wall)
        for zone in wall.zones:
            found += _zone(zone, wall, height)
            found += _margin(zone, wall)
        found += _studs(wall)
    return tuple(found)


def _closing(room: RoomIn) -> Iterator[Finding]:
    plan = room.plan
    # Corners that make no full turn are told by themselves: the ends say nothing then.
    if _missed_turn(room) or plan.closing_ticks <= CLOSING_LIMIT_TICKS:
        return
    again = [room.walls[n].name for n in suspects(room.lines)]
    yield Finding(
        "closing",
        amounts_ticks=(round(plan.closing_ticks),),
        wall=listed(again),
        other=f"{fixed(plan.closing_share * 100, 2)}%",
    )


def _missed_turn(room: RoomIn) -> int:
    """Return what the corners miss of a full turn, in millidegrees; 0 if to be shared."""
    miss = abs(room.plan.turned_millidegrees - FULL_TURN)
    shared = any(line.angle_read for line in room.lines)
    return 0 if shared and miss <= ANGLE_LIMIT else miss


def _turns(room: RoomIn) -> Iterator[Finding]:
    miss = _missed_turn(room)
    if miss:
        read = any(line.angle_read for line in room.lines)
        key = "angles" if read and miss <= TURN_LIMIT else "turns"
        turned = fixed(room.plan.turned_millidegrees / 1000, 1).removesuffix(".0")
        yield Finding(key, other=f"{turned}°")


def _crossing(room: RoomIn) -> Iterator[Finding]:
    found = crossing(room.corners)
    if found and not _missed_turn(room):
        one, two = (room.walls[n].name for n in found)
        yield Finding("crosses", wall=one, other=two)


def _heights(
    walls: Sequence[WallIn], height_ticks: int | None, ceiling: Ceiling
) -> Iterator[Finding]:
    if ceiling is not Ceiling.FLAT:
        return
    read = [height_ticks, *(wall.height_ticks for wall in walls)]
    known = [height for height in read if height is not None]
    if known and max(known) - min(known) > HEIGHT_LIMIT_TICKS:
        yield Finding("heights", amounts_ticks=(max(known), min(known)))


def _place(
    opening: OpeningIn, wall: WallIn, height_ticks: int | None
) -> Iterator[Finding]:
    name, length = opening.name, wall.line.length_ticks
    widest = max(opening.readings.widths_ticks)
    if widest > length:
        yield Finding("wider", name, (widest, length), wall.name)
    elif opening.span_ticks and opening.span_ticks[1] > length:
        yield Finding("beyond", name, (opening.span_ticks[1], length), wall.name)
    # A door that nobody gave a sill stands on the floor.
    rise = opening.rise_ticks or (0, max(opening.readings.heights_ticks))
    if height_ticks is not None and rise[1] > height_ticks:
        yield Finding("above", name, (rise[1], height_ticks), wall.name)
    if opening.kind == "door" and opening.shape.height_ticks < LOW_DOOR_TICKS:
        yield Finding("low_door", name, (opening.shape.height_ticks,), wall.name)


def trueness(opening: OpeningIn) -> Iterator[Finding]:
    """Find what an opening's own readings say against each other."""
    shape, read, name = opening.shape, opening.readings, opening.name
    if shape.width_spread_ticks > SPREAD_LIMIT_TICKS:
        yield Finding("widths", name, (shape.width_spread_ticks,))
    if shape.height_spread_ticks > SPREAD_LIMIT_TICKS:
        yield Finding("high", name, (shape.height_spread_ticks,))
    if opening.gets_panel and not _read_fully(opening):
        yield Finding("read_more", name)
    yield from _diagonals(name, shape, read)


def _read_fully(opening: OpeningIn) -> bool:
    read = opening.readings
    return len(read.widths_ticks) == len(read.heights_ticks) == 3


def _diagonals(name: str, shape: Shape, read: Readings) -> Iterator[Finding]:
    right, left = read.rising_right_ticks, read.rising_left_ticks
    known = [d for d in (right, left) if d is not None]
    if not known:
        return
    ideal = ideal_diagonal_ticks(shape.width_ticks, shape.height_ticks)
    both = right is not None and left is not None
    mean = mean_diagonal_ticks(known[0], known[-1])
    # One diagonal alone may be longer or shorter by the lean: twice the share.
    if abs(mean - ideal) > ideal * DIAGONAL_SHARE * (1 if both else 2):
        yield Finding("diagonals", name, (round(ideal),))
    elif abs(known[0] - known[-1]) > DIAGONAL_LIMIT_TICKS:
        yield Finding("square", name, (abs(known[0] - known[-1]),))


def _overlaps(wall: WallIn) -> Iterator[Finding]:
    for one, two in combinations(wall.openings, 2):
        if _meet(one.span_ticks, two.span_ticks, unknown=False) and _meet(
            one.rise_ticks, two.rise_ticks, unknown=True
        ):
            yield Finding("overlap", one.name, wall=wall.name, other=two.name)


def _meet(
    one: tuple[int, int] | None, two: tuple[int, int] | None, *, unknown: bool
) -> bool:
    """Whether two stretches share more than an end; `unknown` where one was not read."""
    if one is None or two is None:
        return unknown
    return one[0] < two[1] and two[0] < one[1]


def _zone(zone: ZoneIn, wall: WallIn, height_ticks: int | None) -> Iterator[Finding]:
    right, top = (
        zone.left_ticks + zone.width_ticks,
        zone.bottom_ticks + zone.height_ticks,
    )
    if right > wall.line.length_ticks:
        yield Finding(
            "zone_beyond", zone.name, (right, wall.line.length_ticks), wall.name
        )
    if height_ticks is not None and top > height_ticks:
        yield Finding("zone_above", zone.name, (top, height_ticks), wall.name)


def _margin(zone: ZoneIn, wall: WallIn) -> Iterator[Finding]:
    """Tell where a zone with what stays clear round it meets an opening for a panel."""
    margin = zone.margin_ticks
    across = zone.left_ticks - margin, zone.left_ticks + zone.width_ticks + margin
    up = zone.bottom_ticks - margin, zone.bottom_ticks + zone.height_ticks + margin
    for opening in wall.openings:
        if not opening.gets_panel:
            continue
        if _meet(across, opening.span_ticks, unknown=False) and _meet(
            up, opening.rise_ticks, unknown=False
        ):
            yield Finding("margin", zone.name, (margin,), wall.name, opening.name)


def _reveal(opening: OpeningIn) -> Iterator[Finding]:
    reveal, panel = opening.reveal_depth_ticks, opening.panel_depth_ticks
    if reveal is not None and panel is not None and reveal < panel:
        yield Finding("reveal", opening.name, (reveal, panel))


def _studs(wall: WallIn) -> Iterator[Finding]:
    length, found = wall.line.length_ticks, wall.framing.members_ticks
    yield from (
        Finding("stud_beyond", amounts_ticks=(at, length), wall=wall.name)
        for at in found
        if at > length
    )
    spans = [opening.span_ticks for opening in wall.openings if opening.span_ticks]
    if odd := odd_gap(wall.framing, spans):
        yield Finding("studs_apart", amounts_ticks=odd, wall=wall.name)


def _joists(room: RoomIn) -> Iterator[Finding]:
    reach = room.joists_reach_ticks
    yield from (
        Finding("joist_beyond", amounts_ticks=(at, reach))
        for at in room.joists.members_ticks
        if at > reach
    )
    if odd := odd_gap(room.joists, ()):
        yield Finding("joists_apart", amounts_ticks=odd)
