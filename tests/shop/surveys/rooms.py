"""Rooms for the engine's tests, in millimetres."""

from __future__ import annotations

from math import hypot

from shop.surveys.engine import (
    OpeningIn,
    Readings,
    RoomIn,
    WallIn,
    WallLine,
    ZoneIn,
    rectangle,
)
from tests.factories.surveys import mm


def opening(
    *,
    name="window",
    kind="window",
    widths=(900,),
    heights=(1200,),
    right=None,
    left=None,
    at=500,
    sill=900,
    gets_panel=False,
):
    read = Readings(
        tuple(mm(w) for w in widths),
        tuple(mm(h) for h in heights),
        None if right is None else mm(right),
        None if left is None else mm(left),
    )
    return OpeningIn(
        name=name,
        kind=kind,
        readings=read,
        from_left_ticks=None if at is None else mm(at),
        sill_ticks=None if sill is None else mm(sill),
        gets_panel=gets_panel,
    )


def zone(*, name="switch", left=300, bottom=1100, width=80, height=80):
    return ZoneIn(name, mm(left), mm(bottom), mm(width), mm(height))


def room(
    *openings, length=5000, width=4000, height=2500, zones=(), ceiling=(), heights=()
):
    """A room of four walls with all openings in wall A."""
    lines = rectangle(mm(length), mm(width))
    high = [None if h is None else mm(h) for h in heights] + [None] * 4
    walls = [
        WallIn(name, line, high[n])
        for n, (name, line) in enumerate(zip("ABCD", lines, strict=True))
    ]
    walls[0] = WallIn("A", lines[0], high[0], tuple(openings), tuple(zones))
    return RoomIn(tuple(walls), None if height is None else mm(height), tuple(ceiling))


def l_room(*openings, legs=(3000, 2500, 3000, 1500), cut=0, height=2500, zones=()):
    """An L, clockwise from its upper left, its upper right corner cut off where asked."""
    a, b, c, d = legs
    walls = [
        (a + c - cut, 45_000, True),
        (hypot(cut, cut), 45_000, True),
        (b + d - cut, 90_000, False),
        (c, 90_000, False),
        (d, -90_000, False),
        (a, 90_000, False),
        (b, 90_000, False),
    ]
    if not cut:
        walls[:2] = [(a + c, 90_000, False)]
    lines = [
        WallLine(mm(length), turn, angle_read=read) for length, turn, read in walls
    ]
    made = [WallIn(name, line) for name, line in zip("ABCDEFG", lines, strict=False)]
    made[0] = WallIn("A", lines[0], None, tuple(openings), tuple(zones))
    return RoomIn(tuple(made), None if height is None else mm(height))
