"""Keep a file of the stores, store what its lines do, and put it all back again."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.db import IntegrityError, models, transaction

from shared.audit.actions import record, record_each
from shared.audit.models import Entry
from shop.catalogue.actions.prices import price_change
from shop.catalogue.models import Import, ImportLine, Material, PriceChange
from shop.people.models import Person

KEPT = dt.timedelta(days=7)
"""How long a file waits that was looked at and not stored."""


class StoresMovedError(Exception):
    """The stores are not as they were when the file was looked at; nothing was stored."""


@dataclass(frozen=True, slots=True)
class Writing:
    """A row as a file wants it, and as it stood when the file was looked at."""

    row: Any
    stored: Any = None
    attrs: tuple[str, ...] = ()
    aside: bool | None = None

    @property
    def fields(self) -> set[str]:
        """The columns that change."""
        return {*self.attrs} | (set() if self.aside is None else {"archived_at"})


@dataclass(frozen=True, slots=True)
class Looked:
    """What a file's lines would do, line by line, with the digest of it all."""

    lines: tuple[ImportLine, ...]
    digest: str


@dataclass(frozen=True, slots=True)
class PutBack:
    """What an undo did: rows as before, rows changed since, new ones gone or aside."""

    back: int
    kept: int
    gone: int
    aside: int


@transaction.atomic
def keep_import(imported: Import, looked: Looked) -> Import:
    """Keep a file that was looked at; those left a week ago go."""
    Import.objects.left_before(imported.looked_at - KEPT).delete()
    imported.digest = looked.digest
    imported.full_clean()
    imported.save()
    _keep_lines(imported, looked)
    return imported


@transaction.atomic
def look_again(imported: Import, looked: Looked, *, at: dt.datetime) -> None:
    """Keep what the lines would do by now."""
    imported.digest, imported.looked_at = looked.digest, at
    imported.save(update_fields=("digest", "looked_at"))
    imported.lines.all().delete()
    _keep_lines(imported, looked)


def _keep_lines(imported: Import, looked: Looked) -> None:
    for line in looked.lines:
        line.of = imported
    ImportLine.objects.bulk_create(looked.lines)


@transaction.atomic
def store_import(
    imported: Import, writings: Iterable[Writing], *, by: Person, at: dt.datetime
) -> Import:
    """Store all that a file does, or nothing; each row must be as it was looked at."""
    held = Import.objects.select_for_update().get(pk=imported.pk)
    new = [w for w in writings if w.stored is None]
    changed = [w for w in writings if w.stored is not None]
    if held.is_stored or not _stand_still(changed):
        raise StoresMovedError
    for writing in (*new, *changed):
        if writing.aside is not None:
            writing.row.archived_at = at if writing.aside else None
    for writing in new:
        writing.row.created_at = at
    _write([w.row for w in new])
    _write([w.row for w in changed], set().union(*(w.fields for w in changed)))
    _note_prices([(w.row, w.stored) for w in (*new, *changed)], held, by=by, at=at)
    record_each(
        [w.row for w in new], verb="add", says="{} added by a file", by=by, at=at
    )
    record_each(
        [w.row for w in changed],
        verb="change",
        says="{} changed by a file",
        by=by,
        at=at,
    )
    held.stored_at, held.stored_by = at, by
    held.undo = {
        "added": [str(w.row.pk) for w in new],
        "changed": {str(w.row.pk): _before_and_after(w) for w in changed},
    }
    held.save(update_fields=("stored_at", "stored_by", "undo"))
    text = f"Stored: {len(new)} new, {len(changed)} changed"
    record(held, verb="store", text=text, by=by, at=at)
    return held


def _stand_still(changed: list[Writing]) -> bool:
    """Lock the rows, and say whether each is as it was looked at."""
    now = _hold([w.row for w in changed])
    return all(
        w.stored.pk in now and _values(now[w.stored.pk]) == _values(w.stored)
        for w in changed
    )


def _hold(rows: list[Any]) -> dict[Any, Any]:
    """Lock rows of one list; by their id."""
    if not rows:
        return {}
    found: models.QuerySet[Any] = type(rows[0]).objects.select_for_update()
    return dict(found.in_bulk([row.pk for row in rows]))


def _values(row: models.Model) -> list[Any]:
    return [getattr(row, field.attname) for field in row._meta.concrete_fields]


def _write(rows: list[Any], attrs: set[str] | None = None) -> None:
    """Store new rows, or some columns of known ones; StoresMovedError if they clash."""
    if not rows:
        return
    how: dict[str, Any] = {}
    if attrs is not None:
        fields = [f.name for f in rows[0]._meta.concrete_fields if f.attname in attrs]
        how = {"update_conflicts": True, "unique_fields": ["id"]}
        how["update_fields"] = fields
    try:
        type(rows[0]).objects.bulk_create(rows, **how)
    except IntegrityError as clash:
        raise StoresMovedError from clash


def _note_prices(
    rows: Iterable[tuple[Any, Any]], imported: Import, *, by: Person, at: dt.datetime
) -> None:
    """Append to the history of prices what the file changed of them."""
    source = f"the file {imported.file_name}"[:200]
    changes = (
        price_change(row, stored, source=source, by=by, at=at)
        for row, stored in rows
        if isinstance(row, Material)
    )
    PriceChange.objects.bulk_create([change for change in changes if change])


def _before_and_after(writing: Writing) -> dict[str, list[str | None]]:
    return {
        attr: [_kept(writing.stored, attr), _kept(writing.row, attr)]
        for attr in sorted(writing.fields)
    }


def _field(row: models.Model, attr: str) -> Any:
    return next(f for f in row._meta.concrete_fields if f.attname == attr)


def _kept(row: models.Model, attr: str) -> str | None:
    """Write a value so that its column reads it back exactly."""
    if getattr(row, attr) is None:
        return None
    return str(_field(row, attr).value_to_string(row))


def _read(row: models.Model, attr: str, kept: str | None) -> Any:
    return None if kept is None else _field(row, attr).to_python(kept)


def _is(row: models.Model, attr: str, kept: str | None) -> bool:
    return bool(getattr(row, attr) == _read(row, attr, kept))


@transaction.atomic
def undo_import(
    imported: Import,
    model: type[models.Model],
    *,
    by: Person,
    at: dt.datetime,
) -> PutBack:
    """Put former values back where the file's still stand; take out what it brought.

    A value that somebody changed since stays. New rows that are used, or were changed
    since, are put aside.
    """
    held = Import.objects.select_for_update().get(pk=imported.pk)
    if held.stored_at is None:
        raise StoresMovedError
    undo, since = held.undo, held.stored_at
    back, kept = _put_back(model, undo["changed"], held, by=by, at=at)
    gone, aside = _take_out(model, undo["added"], since, by=by, at=at)
    held.stored_at, held.stored_by, held.undo = None, None, {}
    held.save(update_fields=("stored_at", "stored_by", "undo"))
    record(held, verb="undo", text="Put back as it was before", by=by, at=at)
    return PutBack(back, kept, gone, aside)


def _put_back(
    model: Any,
    changed: dict[str, dict[str, list[str | None]]],
    imported: Import,
    *,
    by: Person,
    at: dt.datetime,
) -> tuple[int, int]:
    """Put former values back; how many rows are as before, and how many kept something."""
    now = model.objects.select_for_update().in_bulk([uuid.UUID(pk) for pk in changed])
    before = model.objects.in_bulk(list(now))
    attrs: set[str] = set()
    whole = 0
    for pk, row in now.items():
        values = changed[str(pk)]
        still = {a: old for a, (old, new) in values.items() if _is(row, a, new)}
        for attr, old in still.items():
            setattr(row, attr, _read(row, attr, old))
        attrs.update(still)
        whole += still.keys() == values.keys()
    rows = [row for pk, row in now.items() if _values(row) != _values(before[pk])]
    if rows:
        _write(rows, attrs)
    _note_prices([(row, before[row.pk]) for row in rows], imported, by=by, at=at)
    says = "{} put back as it was before a file"
    record_each(rows, verb="change", says=says, by=by, at=at)
    return whole, len(changed) - whole


def _take_out(
    model: Any, added: list[str], since: dt.datetime, *, by: Person, at: dt.datetime
) -> tuple[int, int]:
    """Delete what came new and is not used; put the rest aside."""
    rows = model.objects.select_for_update().in_bulk([uuid.UUID(pk) for pk in added])
    used = _referred(model, set(rows)) | Entry.objects.changed_since(set(rows), since)
    aside = [row for pk, row in rows.items() if pk in used]
    gone = [row for pk, row in rows.items() if pk not in used]
    record_each(gone, verb="remove", says="{} taken out again", by=by, at=at)
    model.objects.filter(pk__in=[row.pk for row in gone]).delete()
    waiting = [row for row in aside if not row.is_archived]
    for row in waiting:
        row.archived_at = at
    _write(waiting, {"archived_at"})
    record_each(waiting, verb="archive", says="{} put aside", by=by, at=at)
    return len(gone), len(aside)


def _referred(model: Any, ids: set[Any]) -> set[Any]:
    """Return those that any other row points at. A query for each kind of row."""
    found: set[Any] = set()
    for relation in model._meta.get_fields(include_hidden=True):
        if relation.auto_created and not relation.concrete:
            there = relation.field
            rows = there.model._base_manager.filter(**{f"{there.name}__in": ids})
            found.update(rows.values_list(there.attname, flat=True))
    return found
