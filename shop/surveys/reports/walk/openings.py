"""Openings on the walk: where each is, its readings, what a panel in it asks for."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from shop.surveys.models import Axis, Facing, Glass, OpeningKind
from shop.surveys.reports.walk.fields import REMOVED, Field, Kind, typed_or_exact

FIRST = {"width_1", "height_1"}
"""Readings that every opening needs; the others are for a panel in it."""
_ACROSS_IT = ("", "in the middle", "at the bottom")
_UP_IT = ("", "in the middle", "on the right")
_RISING = ("from the upper left", "from the upper right")


def reading_of(name: str) -> tuple[Axis, int]:
    """Return which reading a field is: width_2 is the second width."""
    axis, _, place = name.rpartition("_")
    return Axis(axis), int(place)


def _read(name: str) -> Callable[[Any], str]:
    axis, place = reading_of(name)

    def text(opening: Any) -> str:
        if opening._state.adding:
            return ""
        read = {(one.axis, one.place): one for one in opening.readings.all()}
        found = read.get((axis, place))
        return typed_or_exact(found.text, found.ticks) if found else ""

    return text


def _readings(axis: Axis, places: tuple[str, ...]) -> tuple[Field, ...]:
    names = [f"{axis.value}_{number}" for number in range(1, len(places) + 1)]
    return tuple(
        Field(
            name,
            f"{axis.label.capitalize()} {where}".strip(),
            needed=name in FIRST,
            read=_read(name),
        )
        for name, where in zip(names, places, strict=True)
    )


READINGS = (
    *_readings(Axis.WIDTH, _ACROSS_IT),
    *_readings(Axis.HEIGHT, _UP_IT),
    *_readings(Axis.DIAGONAL, _RISING),
)

OPENING = Kind(
    "opening",
    (
        Field("kind", "What it is", "choice", choices=tuple(OpeningKind.choices)),
        Field("name", "Its name", "line", most=40),
        Field("from_left", "From the left corner", needed=True),
        Field("sill", "Sill above the floor"),
        *READINGS,
        Field("gets_panel", "It gets a panel", "tick"),
        Field("reveal", "Depth of the reveal", column="reveal_depth"),
        Field("panel_depth", "How deep in it the panel will sit"),
        Field("obstructions", "In the way: handle, blind", "line", most=200),
        Field("glass", "Glass", "choice", choices=tuple(Glass.choices)),
        Field("faces", "It faces", "choice", choices=tuple(Facing.choices)),
        Field("must_open", "It must still open", "tick"),
        REMOVED,
    ),
)
