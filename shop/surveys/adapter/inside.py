"""What is in a room as rows, turned into what the engine takes."""

from __future__ import annotations

from collections.abc import Iterator

from shop.surveys.adapter import readings_of, room_in
from shop.surveys.engine.spots import SpotIn
from shop.surveys.engine.surfaces import CoveringIn, On, Surfaces, surfaces
from shop.surveys.models import Survey


def coverings_in(survey: Survey) -> Iterator[CoveringIn]:
    """Yield the finishes of a survey `with_inside()` for the engine.

    What lies on an opening that was not read yet has no area, and is left out.
    """
    walls = list(survey.walls.all())
    wall_at = {wall.pk: place for place, wall in enumerate(walls)}
    opening_at = {
        opening.pk: (wall_at[wall.pk], place)
        for wall in walls
        for place, opening in enumerate(
            o for o in wall.openings.all() if readings_of(o)
        )
    }
    for covering in survey.coverings.all():
        wall = wall_at.get(covering.wall_id, -1) if covering.wall_id else -1
        opening = -1
        if covering.opening_id:
            if covering.opening_id not in opening_at:
                continue
            wall, opening = opening_at[covering.opening_id]
        yield CoveringIn(
            On(covering.surface),
            covering.finish.name if covering.finish else "",
            wall,
            opening,
            covering.width_ticks,
            covering.height_ticks,
        )


def surfaces_of(survey: Survey) -> Surfaces | None:
    """Share a survey's surfaces out among its finishes; nothing while it has no plan."""
    room = room_in(survey)
    return surfaces(room, list(coverings_in(survey))) if room else None


def spots_in(survey: Survey) -> tuple[SpotIn, ...]:
    """Return the places of a survey `with_inside()` whose distances were read."""
    return tuple(
        SpotIn(
            spot.kind,
            str(spot),
            spot.left_ticks,
            spot.bottom_ticks,
            spot.height_ticks,
            spot.width_ticks,
        )
        for spot in survey.spots.all()
        if spot.left_ticks is not None and spot.bottom_ticks is not None
    )
