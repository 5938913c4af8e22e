"""Turn a kind of record with its fields into writes that devices may send.

A field is a line of its `Kind`; what is typed is cleaned by the form that the pages use.
"""

from __future__ import annotations

import copy
import datetime as dt
import uuid
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import partial
from typing import Any

from django import forms
from django.db import models

from shared.access import Right
from shared.forms import plain_formfield
from shared.offline import Op, Refused, register
from shop.surveys import actions
from shop.surveys.actions.fields import change_ceiling, change_part
from shop.surveys.models import Survey
from shop.surveys.reports.walk.fields import Kind

GONE = "This is no longer there."
TICKS = {"yes": True, "": False}

Store = Callable[[Any, Any, dt.datetime], object]
"""(row, by, at): stores a row whose columns were set."""
Writer = Callable[[Any, str, Any, dt.datetime], object]
"""(row, what was typed, by, at): changes and stores a row in a way of its own."""


@dataclass(frozen=True, slots=True)
class Record:
    """A kind of record: its rows, the form that cleans, the action that stores.

    ``writers`` are for fields that are more than a column; ``old_names`` are ops by which
    devices with an older version of the program write one of the fields.
    """

    kind: Kind
    rows: Callable[[], models.QuerySet[Any]]
    form: type[forms.BaseForm]
    store: Store
    writers: Mapping[str, Writer] = field(default_factory=dict)
    old_names: Mapping[str, str] = field(default_factory=dict)

    def register(self) -> None:
        """Name the writes that such a record takes."""
        ops = {self.kind.name: self.kind.names}
        ops |= {op: frozenset({name}) for op, name in self.old_names.items()}
        for op, names in ops.items():
            register(
                Op(
                    op,
                    self.kind.name,
                    names,
                    Right.SURVEY,
                    write=partial(_write, self),
                    read=partial(_read, self),
                )
            )


def one(rows: models.QuerySet[Any], pk: uuid.UUID) -> Any:
    """Fetch a row and hold it: two devices may write two of its fields at once."""
    found = rows.select_for_update(of=("self",)).filter(pk=pk).first()
    if found is None:
        raise Refused(GONE)
    return found


def _write(
    record: Record, by: Any, pk: uuid.UUID, name: str, typed: str, at: dt.datetime
) -> None:
    row = one(record.rows(), pk)
    if name in record.writers:
        record.writers[name](row, typed, by, at)
        return
    changed = put(record, row, name, typed)
    if isinstance(row, actions.Part):
        change_part(row, changed, by=by, at=at)
    elif isinstance(row, Survey):
        change_ceiling(row, changed, by=by, at=at)
    else:
        record.store(row, by, at)


def _read(record: Record, pk: uuid.UUID, name: str) -> str:
    row = record.rows().filter(pk=pk).first()
    if row is None:
        raise Refused(GONE)
    return record.kind[name].text(row)


def put(record: Record, row: Any, name: str, typed: str) -> tuple[str, ...]:
    """Clean what was typed for a field, and set its column or columns; return which."""
    entry = record.kind[name]
    column = entry.kept_in
    if entry.look == "tick":
        setattr(row, column, tick(typed))
        return (column,)
    if entry.look != "length":
        setattr(row, column, form_field(record, column).clean(typed))
        return (column,)
    ticks, text = f"{column}_ticks", f"{column}_text"
    value = form_field(record, ticks).clean(typed)
    setattr(row, ticks, value)
    setattr(row, text, "" if value is None else typed.strip())
    return (ticks, text)


def tick(typed: str) -> bool:
    """Read a tick."""
    if typed not in TICKS:
        raise Refused("This device sent a tick that is neither yes nor no.")
    return TICKS[typed]


def removed(part: Any, typed: str, by: Any, at: dt.datetime) -> None:
    """Take a part out, or put it back; what is so already stays."""
    out = tick(typed)
    if out == (part.removed_at is not None):
        return
    change = actions.take_out if out else actions.put_back
    change(part, by=by, at=at)


def form_field(record: Record, column: str) -> forms.Field:
    """Return the form's own field for a column.

    What may be missing in a row may be taken back, even where the page's form asks for it.
    """
    kept: Any = record.rows().model._meta.get_field(column)
    known: Mapping[str, forms.Field] = getattr(record.form, "base_fields", {})
    made: Any = (
        copy.deepcopy(known[column]) if column in known else plain_formfield(kept)
    )
    if kept.null or kept.blank:
        made.required = False
    return made  # type: ignore[no-any-return]
