"""Walls on the walk: length, corner, what each is made of."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from shop.surveys.models import Construction, CornerKind, FramingRun, Wall
from shop.surveys.reports.walk.fields import REMOVED, Field, Kind, plain_number

HALF = Decimal(180)
QUARTERS = (90_000, -90_000)
"""What stands for an angle that was not read: square corners are chosen as such."""


def inside_angle(wall: Any) -> str:
    """Write the angle that was read inside the room at a wall's end."""
    if wall.turn_millidegrees in QUARTERS:
        return ""
    return plain_number(HALF - Decimal(wall.turn_millidegrees) / 1000)


def made_of(run: tuple[FramingRun, ...]) -> tuple[Field, ...]:
    """Return the fields for what a wall or the ceiling is made of."""
    runs = tuple((str(one.value), str(one.label)) for one in run)
    return (
        Field(
            "construction",
            "Made of",
            "choice",
            choices=tuple(Construction.choices),
            needed=True,
        ),
        Field("board", "Board thickness", column="board_thickness"),
        Field("spacing", "Framing every", column="framing_spacing"),
        Field("run", "Framing runs", "choice", "framing_run", choices=runs),
        Field("heated", "Heating runs in it", "tick"),
    )


WALL = Kind(
    "wall",
    (
        Field("length", "Length", needed=True, hook="data-plan-wall"),
        Field(
            "corner",
            "Corner at its end",
            "choice",
            choices=tuple(CornerKind.choices),
            hook="data-plan-corner",
        ),
        Field(
            "angle",
            "Angle inside the room",
            "number",
            read=inside_angle,
            hook="data-plan-turn",
        ),
        Field("diagonal", "Diagonal over the corner", hook="data-plan-diagonal"),
        Field("height", "Ceiling height at its left corner"),
        Field("name", "Its name", "line", most=40),
        *made_of((FramingRun.UNKNOWN, FramingRun.UPRIGHT, FramingRun.LEVEL)),
        REMOVED,
    ),
)


def wall_title(wall: Wall) -> str:
    """Name a wall."""
    return f"wall {wall.name}"
