"""Write down what is in a room: finishes, furniture, places."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

from django.db import transaction

from shared.audit.actions import record
from shop.catalogue.actions import install_finishes
from shop.catalogue.models import Finish
from shop.people.models import Person
from shop.surveys.actions import store_part, touch
from shop.surveys.engine.presets import RoomPreset
from shop.surveys.models import (
    Covering,
    Furniture,
    Glass,
    Opening,
    OpeningKind,
    Spot,
    Surface,
    Survey,
)

GLAZED = {
    Glass.SINGLE: "glass-single",
    Glass.DOUBLE: "glass-double-narrow",
    Glass.SEALED: "glass-double-narrow",
}
"""What a window is covered with by what was seen of it, else as the preset says."""


@transaction.atomic
def store_covering(covering: Covering, *, by: Person, at: dt.datetime) -> Covering:
    """Store a finish on a surface, new or changed."""
    store_part(covering, covering.survey, by=by, at=at)
    return covering


@transaction.atomic
def store_spot(spot: Spot, *, by: Person, at: dt.datetime) -> Spot:
    """Store a place in the room, new or changed."""
    store_part(spot, spot.survey, by=by, at=at)
    return spot


@transaction.atomic
def count_furniture(
    survey: Survey, counts: Mapping[str, int], *, by: Person, at: dt.datetime
) -> None:
    """Store how many there are of the kinds named; the others stay as they are."""
    touch(survey)
    there = {row.kind: row for row in survey.furniture.all()}
    for kind, count in counts.items():
        row = there.get(kind) or Furniture(survey=survey, kind=kind)
        if row.count == count and kind in there:
            continue
        row.count = count
        row.full_clean()
        row.save()
    text = f"Survey {survey.revision}: people and furniture counted"
    record(survey.room, verb="measure", text=text, by=by, at=at)


@transaction.atomic
def finish_room(
    survey: Survey, preset: RoomPreset, *, by: Person, at: dt.datetime
) -> None:
    """Finish walls, ceiling and floor like other rooms of a kind.

    Openings that have no finish get theirs; what one wall, or a part, has of its own stays.
    """
    touch(survey)
    install_finishes(at=at)
    finishes = {finish.key: finish for finish in Finish.objects.all()}
    standing = list(survey.coverings.standing())
    for surface, key in (
        (Surface.WALLS, preset.walls),
        (Surface.CEILING, preset.ceiling),
        (Surface.FLOOR, preset.floor),
    ):
        whole = [c for c in standing if c.surface == surface and not _is_part(c)]
        row = whole[-1] if whole else Covering(survey=survey, surface=surface)
        _cover(row, finishes[key])
        for other in whole[:-1]:
            other.removed_at = at
            other.save(update_fields=["removed_at"])
    covered = {c.opening_id for c in standing}
    openings = Opening.objects.standing().filter(wall__survey=survey)
    for opening in openings.exclude(pk__in=[pk for pk in covered if pk]):
        key = _key_of(opening, preset)
        if key:
            row = Covering(survey=survey, surface=Surface.OPENING, opening=opening)
            _cover(row, finishes[key])
    text = f"Survey {survey.revision}: finished like a {preset.label}"
    record(survey.room, verb="measure", text=text, by=by, at=at)


def _is_part(covering: Covering) -> bool:
    return bool(covering.width_ticks or covering.height_ticks)


def _key_of(opening: Opening, preset: RoomPreset) -> str:
    """Return the finish of an opening; nothing for a recess, which is made of its own."""
    if opening.kind == OpeningKind.WINDOW:
        return GLAZED.get(Glass(opening.glass), preset.window)
    return preset.door if opening.kind == OpeningKind.DOOR else ""


def _cover(row: Covering, finish: Finish) -> None:
    row.finish = finish
    row.full_clean()
    row.save()
