"""What to read before leaving: what is missing, and what a later step will need.

The rules are the engine's (engine/asks.py); here a survey's rows become their facts.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from shop.surveys import adapter
from shop.surveys.engine.asks import MISSING, NEEDED, WALLS_UNREAD, Facts, asked
from shop.surveys.models import Opening, Survey, Wall

CEILING = "the ceiling"
Records = dict[str, list[Facts]]


def missing(survey: Survey, walls: Sequence[Wall]) -> Iterator[str]:
    """Say what is missing in a survey that came `with_parts()`, the room first."""
    return asked(MISSING, _parts(survey, walls))


def needed(survey: Survey, *, has_photo: bool) -> Iterator[str]:
    """Say what a later step will need of a survey that came `with_parts()`, `with_room()`.

    None of it keeps the room from being drawn.
    """
    room, site = survey.room, survey.room.site
    around: Records = {
        "room": [{"use": room.use, "photo": _yes(has_photo)}],
        "site": [
            {
                "year_built": _read(site.year_built),
                "tenure": site.tenure,
                "narrowest_door": _read(site.narrowest_door_ticks),
            }
        ],
    }
    return asked(NEEDED, _parts(survey, list(survey.walls.all())) | around)


def unread_walls(walls: Sequence[Wall]) -> Iterator[str]:
    """Say which walls are not read, and which keep the plan from being drawn."""
    return asked([WALLS_UNREAD], {"wall": list(_walls(walls))})


def _read(ticks: int | None) -> str:
    return "" if ticks is None else "read"


def _yes(known: object) -> str:
    return "yes" if known else ""


def _parts(survey: Survey, walls: Sequence[Wall]) -> Records:
    names: dict[object, str] = {wall.pk: f"wall {wall.name}" for wall in walls}
    found = {member.wall_id for member in survey.members.all()}
    read = [wall for wall in walls if wall.height_ticks is not None]
    ceiling: Facts = {
        "shape": survey.ceiling_shape,
        "height": _read(survey.height_ticks),
        "corners": "few" if len(read) < 3 else "enough",
        "construction": survey.construction,
        "found": _yes(None in found),
    }
    of_walls: list[Facts] = [
        facts | {"shape": survey.ceiling_shape, "found": _yes(wall.pk in found)}
        for facts, wall in zip(_walls(walls), walls, strict=True)
    ]
    openings = [
        _opening(opening, adapter.label_of(opening, wall))
        for wall in walls
        for opening in wall.openings.all()
    ]
    boxes = _boxes(survey, names)
    return {"survey": [ceiling], "wall": of_walls, "opening": openings, **boxes}


def _walls(walls: Sequence[Wall]) -> Iterator[dict[str, str]]:
    for wall, length in zip(walls, adapter.lengths_of(walls), strict=True):
        known = "" if length is None else "opposite"
        yield {
            "name": wall.name,
            "length": known if wall.length_ticks is None else "read",
            "corner": wall.corner,
            "diagonal": _read(wall.diagonal_ticks),
            "angle": _yes(adapter.has_angle(wall)),
            "height": _read(wall.height_ticks),
            "construction": wall.construction,
        }


def _opening(opening: Opening, name: str) -> Facts:
    return {
        "name": name,
        "kind": opening.kind,
        "from_left": _read(opening.from_left_ticks),
        "sill": _read(opening.sill_ticks),
        "size": _yes(adapter.readings_of(opening)),
        "gets_panel": _yes(opening.gets_panel),
        "reveal": _read(opening.reveal_depth_ticks),
        "panel_depth": _read(opening.panel_depth_ticks),
        "glazed": _yes(opening.glass and opening.faces),
    }


def _boxes(survey: Survey, names: dict[object, str]) -> Records:
    """Return the facts of places, studs and beams."""
    return {
        "zone": [
            {
                "name": str(zone),
                "where": names.get(zone.wall_id, CEILING),
                "place": _yes(None not in (zone.left_ticks, zone.bottom_ticks)),
                "size": _yes(adapter.zone_size(zone)),
            }
            for zone in survey.zones.all()
        ],
        "member": [
            {
                "name": str(member),
                "where": names.get(member.wall_id, CEILING),
                "at": _read(member.at_ticks),
            }
            for member in survey.members.all()
        ],
        "beam": [
            {"name": str(beam), "size": _yes(adapter.beam_in(beam))}
            for beam in survey.beams.all()
        ],
    }
