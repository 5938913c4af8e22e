"""Fields of a walk: what each is called, how it looks, where it is kept; shown and read."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

from shared.conventions import current
from shared.length import LengthError, UnitSystem, parse, show_exact
from shared.offline.reports import Versions

_KEYS = {
    look: mark_safe(keys)  # noqa: S308 - nobody typed it
    for look, keys in (
        ("number", ' inputmode="decimal"'),
        ("phone", ' type="tel"'),
        ("tick", ""),
        ("choice", ""),
    )
}
Choices = tuple[tuple[str, str], ...]
NEW, OF = "__new__", "__of__"
"""What stands in a template for the id of a part that is made on the device."""


@dataclass(frozen=True, slots=True)
class Field:
    """A field of a record: its name on the way, its label, its look, its column.

    A length's column stands for ``x_ticks`` with ``x_text``; other columns are as named.
    ``read`` gives the text of what is kept in no column of the row itself. ``needed``
    fields are counted as read or not. ``hook`` is an attribute that scripts look for. A
    label that stands ``alone`` says by itself whose field it is.
    """

    name: str
    label: str
    look: str = "length"
    column: str = ""
    choices: Choices = ()
    needed: bool = False
    read: Callable[[Any], str] | None = None
    hook: str = ""
    most: int = 120
    alone: bool = False

    @property
    def kept_in(self) -> str:
        """The column, without a length's ending."""
        return self.column or self.name

    def text(self, row: Any) -> str:
        """Return what is kept, as the text that a box shows."""
        if self.read is not None:
            return self.read(row)
        if self.look == "length":
            return _length_text(row, self.kept_in)
        value = getattr(row, self.kept_in)
        if self.look == "tick":
            return ticked(value)
        return "" if value is None else str(value)


def ticked(yes: object) -> str:
    """Write a tick as devices do."""
    return "yes" if yes else ""


def plain_number(number: Decimal) -> str:
    """Write a number without zeros that say nothing."""
    return f"{number.normalize():f}"


def _length_text(row: Any, column: str) -> str:
    text: str = getattr(row, f"{column}_text")
    ticks: int | None = getattr(row, f"{column}_ticks")
    return text if ticks is None else typed_or_exact(text, ticks)


def typed_or_exact(text: str, ticks: int) -> str:
    """Return what was typed, unless the shop has changed its units and it reads otherwise."""
    units = current().unit_system
    try:
        reads = parse(text, units=units)
    except LengthError:
        reads = None
    return text if reads == ticks else show_exact(ticks, units=units)


REMOVED = Field("removed", "Take out", "tick", column="removed_at")
"""Parts that may be taken out have this one."""


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of record with its fields; its name is that of its lane and of its op."""

    name: str
    fields: tuple[Field, ...]

    @property
    def names(self) -> frozenset[str]:
        """The names of its fields."""
        return frozenset(one.name for one in self.fields)

    def __getitem__(self, name: str) -> Field:
        return next(one for one in self.fields if one.name == name)


@dataclass(frozen=True, slots=True)
class WalkField:
    """A field as the page shows it, with its value and the version of that.

    ``of`` says to ears alone which record it belongs to; ``hint`` is what counts as long
    as nothing is typed.
    """

    field: Field
    kind: str
    record: str
    of: str
    value: str
    version: int = 0
    hint: str = ""

    @property
    def whose(self) -> str:
        """What follows its label for ears alone: of wall A."""
        if self.field.alone:
            return ""
        return f" {self.of}" if self.field.label.endswith(" of") else f" of {self.of}"

    @property
    def id(self) -> str:
        """An id for its box, the only one on a page."""
        return f"{self.kind}-{self.record}-{self.field.name}"

    @property
    def lane(self) -> str:
        """What is written to one record is sent in order."""
        return f"{self.kind}:{self.record}"

    @property
    def box(self) -> SafeString:
        """The attributes of its box: where what is typed goes, and how it is read."""
        one = self.field
        made = format_html(
            'id="{}" data-offline-field="{}" data-offline-lane="{}" data-offline-op="{}"'
            ' data-offline-version="{}"',
            *(self.id, one.name, self.lane, self.kind, self.version),
        )
        return format_html(
            "{}{}{}", made, self._keys, f" {one.hook}" if one.hook else ""
        )

    @property
    def _keys(self) -> SafeString:
        """Which keys a phone shows: decimal ones have no foot or inch mark."""
        if self.field.look != "length":
            return _KEYS.get(
                self.field.look, format_html(' maxlength="{}"', self.field.most)
            )
        units, fraction = current().unit_system, current().fraction
        keys = "decimal" if units is UnitSystem.METRIC else "text"
        return format_html(
            ' inputmode="{}" data-length="{}" data-length-fraction="{}"',
            *(keys, units, fraction),
        )


@dataclass(frozen=True, slots=True)
class Part:
    """A record on the walk with its fields by name, and the parts that it has."""

    kind: str
    id: str
    title: str
    fields: dict[str, WalkField]
    parts: dict[str, tuple[Part, ...]] = field(default_factory=dict)
    photos: tuple[Part, ...] = ()

    @property
    def lane(self) -> str:
        """The record's own lane, by which its parts say whose they are."""
        return f"{self.kind}:{self.id}"


def part_of(
    kind: Kind,
    row: Any,
    title: str,
    versions_of: Versions,
    *,
    hints: Mapping[str, str] | None = None,
    parts: Mapping[str, tuple[Part, ...]] | None = None,
) -> Part:
    """Return a record as the page shows it."""
    record = str(row.pk)
    shown = {
        one.name: WalkField(
            one,
            kind.name,
            record,
            title,
            one.text(row),
            versions_of.get((row.pk, one.name), 0),
            (hints or {}).get(one.name, ""),
        )
        for one in kind.fields
    }
    return Part(kind.name, record, title, shown, dict(parts or {}))


def blank_part(
    kind: Kind,
    row: Any,
    title: str,
    *,
    mark: str = NEW,
    hints: Mapping[str, str] | None = None,
    parts: Mapping[str, tuple[Part, ...]] | None = None,
) -> Part:
    """Return a part that does not exist yet, with a mark where its id belongs.

    `row` is not stored, and never will be.
    """
    row.pk = mark
    return part_of(kind, row, title, {}, hints=hints, parts=parts)
