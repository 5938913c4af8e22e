"""What is in a room, on the walk: finishes, furniture, where one listens and plays."""

from __future__ import annotations

from typing import Any

from shop.catalogue.models import Finish
from shop.surveys.engine.presets import PRESETS
from shop.surveys.models import Covering, FurnitureKind, Spot, SpotKind, Surface
from shop.surveys.reports.walk.fields import REMOVED, Choices, Field, Kind

COUNT = "count_"
"""What a field's name begins with that counts a kind of furniture."""

_PRESET_CHOICES = (("", "choose"), *((key, p.label) for key, p in PRESETS.items()))
_ON_ROOM = (Surface.WALLS, Surface.CEILING, Surface.FLOOR)


def finish_choices() -> Choices:
    """Return the finishes in use, to choose from. One query."""
    rows = Finish.objects.live().values_list("pk", "name")
    return (("", "no finish chosen"), *((str(pk), name) for pk, name in rows))


def _finish(covering: Any) -> str:
    return str(covering.finish_id or "")


def covering_kind(finishes: Choices) -> Kind:
    """Return the kind of finishes on surfaces, with what may be chosen."""
    surfaces = tuple((str(value), str(label)) for value, label in Surface.choices)
    return Kind(
        "covering",
        (
            Field("finish", "Covered with", "choice", choices=finishes, read=_finish),
            Field("width", "Width, if a part"),
            Field("height", "Height, if a part"),
            Field("note", "Note", "line"),
            Field("surface", "What it lies on", "choice", choices=surfaces),
            REMOVED,
        ),
    )


COVERING = covering_kind(())

SPOT = Kind(
    "spot",
    (
        Field("left", "From the last wall", needed=True),
        Field("bottom", "From the first wall", needed=True),
        Field("height", "Above the floor"),
        Field("width", "Width, of a desk or screen"),
        Field("kind", "What is there", "choice", choices=tuple(SpotKind.choices)),
        Field("name", "Its name", "line", most=40),
        REMOVED,
    ),
)


def _counted(kind: str) -> Any:
    def read(survey: Any) -> str:
        if survey._state.adding:
            return ""
        counts = (row.count for row in survey.furniture.all() if row.kind == kind)
        count = next(counts, 0)
        return str(count) if count else ""

    return read


def preset_of(survey: Any) -> str:
    """Name the kind of room that a survey is finished like; empty when it is none."""
    if survey._state.adding:
        return ""
    whole = {
        covering.surface: covering.finish.key
        for covering in survey.coverings.all()
        if covering.removed_at is None and covering.finish and not _is_part(covering)
    }
    now = tuple(whole.get(surface) for surface in _ON_ROOM)
    found = (key for key, p in PRESETS.items() if now == (p.walls, p.ceiling, p.floor))
    return next(found, "")


def _is_part(covering: Covering) -> bool:
    return bool(covering.width_ticks or covering.height_ticks)


IN_ROOM = (
    Field(
        "preset", "Finished like a", "choice", choices=_PRESET_CHOICES, read=preset_of
    ),
    *(
        Field(
            f"{COUNT}{kind.value}",
            str(kind.label).capitalize(),
            "number",
            read=_counted(kind.value),
        )
        for kind in FurnitureKind
    ),
)
"""What a survey says of its room as a whole."""


def covering_title(covering: Covering, where: str) -> str:
    """Name a finish on the walk."""
    part = "part" if _is_part(covering) else "finish"
    return f"{part} of {where}"


def spot_title(spot: Spot) -> str:
    """Name a place on the walk."""
    return str(spot)
