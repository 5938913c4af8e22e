"""Parts that are made on the device: each under the id that it got there."""

from __future__ import annotations

import datetime as dt
import json
import uuid
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from django.db import models

from shared.access import Right
from shared.offline import Op, Refused, register
from shop.surveys.models import Opening, Survey, Wall
from shop.surveys.offline.records import Record, put

UNREADABLE = "This device sent something that can’t be read."
NO_PARENT = "What this belongs to is no longer there."

Make = Callable[[Any], Any]
"""(what it belongs to): the part, not stored yet."""

PARENTS: dict[str, Callable[[], models.QuerySet[Any]]] = {
    "survey": lambda: Survey.objects.select_related("room"),
    "wall": lambda: Wall.objects.standing().with_survey(),
    "opening": lambda: Opening.objects.standing().with_survey(),
}
"""What a part may belong to, as long as it stands."""


@dataclass(frozen=True, slots=True)
class NewPart:
    """A kind of part that may be made: how, by the kind of what it belongs to.

    ``store`` is for parts that are more than stored, as a wall is put into its place.
    """

    record: Record
    makes: Mapping[str, Make]
    store: Callable[[Any, Any, Any, dt.datetime], object] | None = None

    def register(self) -> None:
        """Name the write that makes such a part."""
        name = self.record.kind.name
        register(
            Op(
                f"{name}-new",
                name,
                frozenset({"new"}),
                Right.SURVEY,
                write=self._write,
                read=lambda *_: "",
                makes_record=True,
            )
        )

    def _write(
        self, by: Any, pk: uuid.UUID, _: str, value: str, at: dt.datetime
    ) -> None:
        kind, parent_id, said = _told(value)
        make = self.makes.get(kind)
        if make is None:
            raise Refused(UNREADABLE)
        known = self.record.rows().filter(pk=pk).first()
        if known is not None:
            return  # it came before, by another way
        parent = PARENTS[kind]().filter(pk=parent_id).first()
        if parent is None:
            raise Refused(NO_PARENT)
        part = make(parent)
        part.pk = pk
        for name in self.record.kind.names & said.keys():
            put(self.record, part, name, said[name])
        if self.store is None:
            self.record.store(part, by, at)
        else:
            self.store(part, parent, by, at)


def _told(value: str) -> tuple[str, uuid.UUID, dict[str, str]]:
    """Read what a part belongs to, and what is known of it from the start."""
    said = read_object(value)
    kind, _, parent = str(said.pop("of", "")).partition(":")
    if not all(isinstance(text, str) for text in said.values()):
        raise Refused(UNREADABLE)
    return kind, read_id(parent), said


def read_object(value: str) -> dict[str, Any]:
    """Read an object in JSON."""
    try:
        said = json.loads(value)
    except (ValueError, RecursionError):
        raise Refused(UNREADABLE) from None
    if not isinstance(said, dict):
        raise Refused(UNREADABLE)
    return said


def read_id(text: Any) -> uuid.UUID:
    """Read an id that the device made."""
    try:
        return uuid.UUID(str(text))
    except ValueError:
        raise Refused(UNREADABLE) from None
