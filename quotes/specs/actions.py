"""Change builds, and plan panels for rooms."""

from __future__ import annotations

import datetime as dt
import uuid
from dataclasses import dataclass
from decimal import Decimal
from itertools import count
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction

from quotes.specs.adapter import SpecParts
from quotes.specs.engine.model import NominalSize
from quotes.specs.models import BuildSpec, PlannedPanel
from shared.audit.actions import record
from shop.catalogue.models import Material
from shop.people.models import Person
from shop.surveys.models import Opening, Room

MOST_PANELS = 200
"""In one go, and in one group: more than that is a slip of the finger."""


@transaction.atomic
def store_build(
    spec: BuildSpec, parts: SpecParts, *, by: Person, at: dt.datetime
) -> BuildSpec:
    """Store a build, new or changed, with exactly these rows, in this order."""
    is_new = not BuildSpec.objects.filter(pk=spec.pk).exists()
    spec.full_clean()
    spec.save()
    for rows, old in zip(_rows_of(parts), _tables_of(spec), strict=True):
        _put_rows(spec, rows, old)
    verb, words = ("add", "added") if is_new else ("change", "changed")
    record(spec, verb=verb, text=f"Build {words}: {spec.name}", by=by, at=at)
    return spec


def _put_rows(spec: BuildSpec, rows: Any, old: Any) -> None:
    """Write the rows anew, so that two may swap what must be there once."""
    for position, row in enumerate(rows):
        row.spec, row.position = spec, position
        row.full_clean(validate_unique=False, validate_constraints=False)
    old.all().delete()
    old.model.objects.bulk_create(rows)


def _rows_of(parts: SpecParts) -> tuple[Any, Any, Any]:
    return parts.braces, parts.items, parts.operations


def _tables_of(spec: BuildSpec) -> tuple[Any, Any, Any]:
    return spec.braces, spec.items, spec.operations


@transaction.atomic
def copy_build(spec: BuildSpec, *, by: Person, at: dt.datetime) -> BuildSpec:
    """Make a new build like this one, under a name that is free."""
    parts = SpecParts.of(spec)
    copy: BuildSpec = _fresh(spec, at)
    copy.name, copy.preset, copy.archived_at = _free_name(spec.name), "", None
    copied = SpecParts(*([_fresh(row, at) for row in rows] for rows in _rows_of(parts)))
    store_build(copy, copied, by=by, at=at)
    return copy


def _fresh(row: Any, at: dt.datetime) -> Any:
    """Return a new, unsaved row with the same columns."""
    values = {f.attname: getattr(row, f.attname) for f in row._meta.concrete_fields}
    return type(row)(**values | {"id": uuid.uuid4(), "created_at": at})


def _free_name(name: str) -> str:
    """Return “Copy of …” with a number if need be."""
    taken = {n.lower() for n in BuildSpec.objects.live().values_list("name", flat=True)}
    stem = f"Copy of {name}"[:74]
    tries = (stem if n == 1 else f"{stem} {n}" for n in count(1))
    return next(each for each in tries if each.lower() not in taken)


@transaction.atomic
def archive_build(spec: BuildSpec, *, by: Person, at: dt.datetime) -> None:
    """Put a build aside: what is planned of it stays."""
    spec.archived_at = at
    spec.save(update_fields=["archived_at"])
    record(spec, verb="archive", text=f"Build put aside: {spec.name}", by=by, at=at)


@transaction.atomic
def restore_build(spec: BuildSpec, *, by: Person, at: dt.datetime) -> None:
    """Bring a build back; refused when its name has been taken meanwhile."""
    spec.archived_at = None
    spec.full_clean()
    spec.save(update_fields=["archived_at"])
    record(spec, verb="restore", text=f"Build brought back: {spec.name}", by=by, at=at)


@transaction.atomic
def change_yield(
    spec: BuildSpec, percent: Decimal | None, *, by: Person, at: dt.datetime
) -> None:
    """Set how much of the wood ends up in panels of a build; None: the shop's average."""
    was = spec.wood_yield_percent
    spec.wood_yield_percent = percent
    spec.full_clean()
    spec.save(update_fields=["wood_yield_percent"])
    words = ["the shop's average" if p is None else f"{p} %" for p in (was, percent)]
    text = f"Wood that ends up in panels: {words[0]} → {words[1]}"
    record(spec, verb="change", text=text, by=by, at=at)


@dataclass(frozen=True, slots=True)
class PanelChoice:
    """What was chosen for panels that are alike."""

    spec: BuildSpec
    size: NominalSize
    width_text: str
    height_text: str
    fabric: Material | None
    opening: Opening | None
    quantity: int
    note: str


@transaction.atomic
def plan_panels(
    room: Room, choice: PanelChoice, *, by: Person, at: dt.datetime
) -> list[PlannedPanel]:
    """Plan that many panels for a room: one row each."""
    panels = [PlannedPanel(room=room, created_at=at, **_columns(choice))]
    _check(panels[0], choice.quantity)
    panels += [
        PlannedPanel(room=room, created_at=at, **_columns(choice))
        for _ in range(choice.quantity - 1)
    ]
    made = PlannedPanel.objects.bulk_create(panels)
    text = f"{choice.quantity} × {panels[0]} planned"
    record(room, verb="plan", text=text, by=by, at=at)
    return made


def _columns(choice: PanelChoice) -> dict[str, Any]:
    return {
        "spec": choice.spec,
        "width_ticks": choice.size.width_ticks,
        "width_text": choice.width_text,
        "height_ticks": choice.size.height_ticks,
        "height_text": choice.height_text,
        "fabric": choice.fabric,
        "opening": choice.opening,
        "note": choice.note,
    }


def _check(panel: PlannedPanel, quantity: int) -> None:
    panel.full_clean()
    if not 1 <= quantity <= MOST_PANELS:
        raise ValidationError(
            {"quantity": f"Plan 1 to {MOST_PANELS} panels in one go."}
        )


@transaction.atomic
def change_group(
    panel: PlannedPanel, choice: PanelChoice, *, by: Person, at: dt.datetime
) -> None:
    """Change every panel like this one, and make them as many as was chosen.

    Panels that an accepted quote has taken stay as they are.
    """
    before = str(panel)
    group = list(PlannedPanel.objects.uncommitted().like(panel))
    if not group:
        raise ValidationError("These panels were taken out or accepted meanwhile.")
    columns = _columns(choice)
    _check(PlannedPanel(room=panel.room, **columns), choice.quantity)
    kept, spare = group[: choice.quantity], group[choice.quantity :]
    PlannedPanel.objects.among(kept).update(**columns)
    PlannedPanel.objects.among(spare).update(dropped_at=at)
    PlannedPanel.objects.bulk_create(
        PlannedPanel(room=panel.room, created_at=at, **columns)
        for _ in range(choice.quantity - len(kept))
    )
    text = f"{len(group)} × {before} changed to {choice.quantity}"
    record(panel.room, verb="replan", text=text, by=by, at=at)


@transaction.atomic
def drop_group(panel: PlannedPanel, *, by: Person, at: dt.datetime) -> int:
    """Take out every panel like this one that no accepted quote has taken."""
    dropped = PlannedPanel.objects.uncommitted().like(panel).update(dropped_at=at)
    if dropped:
        text = f"{dropped} × {panel} taken out"
        record(panel.room, verb="drop", text=text, by=by, at=at)
    return dropped


@transaction.atomic
def restore_group(panel: PlannedPanel, *, by: Person, at: dt.datetime) -> int:
    """Put back what was taken out together with this panel."""
    if panel.dropped_at is None:
        return 0
    back = PlannedPanel.objects.dropped_with(panel).update(dropped_at=None)
    record(panel.room, verb="plan", text=f"{back} × {panel} put back", by=by, at=at)
    return back
