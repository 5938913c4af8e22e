"""What a device may write while it is away: each app registers its own ops."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from shared.access import Right

Handler = Callable[[Any, uuid.UUID, str, str, dt.datetime], None]
"""(person, record id, field, value, at): changes the record, inside the transaction."""
Reader = Callable[[uuid.UUID, str], str]
"""(record id, field): the value as it is stored now, as text."""


class Refused(Exception):  # noqa: N818 - an answer, not a fault
    """The value is not taken, for good; its sentence is for the person who typed it."""

    def __init__(self, sentence: str) -> None:
        self.sentence = sentence
        super().__init__(sentence)


class Forbidden(Refused):
    """The person may not change this."""

    def __init__(self, sentence: str = "This isn’t yours to change.") -> None:
        super().__init__(sentence)


@dataclass(frozen=True, slots=True)
class Op:
    """One kind of write: which fields of which kind of record, and who may.

    ``fields`` is None where the handler itself knows which there are, as for ticks. With
    ``takes_picture`` the value is the id of a stored file that was made of what was sent;
    pictures are added and replace nothing, so that they have no versions. With
    ``makes_record`` the record is made by the write, under the id that the device gave it;
    made again it is the same, so that there is nothing to choose between.
    """

    name: str
    kind: str
    fields: frozenset[str] | None
    right: Right
    write: Handler
    read: Reader
    takes_picture: bool = False
    makes_record: bool = False


_ops: dict[str, Op] = {}


def register(op: Op) -> None:
    """Add an op; adding it again replaces it, so that apps may load twice."""
    _ops[op.name] = op


def knows(op: Op, kind: str, field: str) -> bool:
    """Whether an op writes this field of this kind of record."""
    return op.kind == kind and (op.fields is None or field in op.fields)


def find(name: str) -> Op | None:
    """Return an op by name, if this version of the program knows it."""
    return _ops.get(name)
