"""Read what a device sends: a batch of writes in order, or a sentence on what is wrong."""

from __future__ import annotations

import datetime as dt
import hashlib
import json
import uuid
from dataclasses import dataclass
from typing import Any

from django.core.exceptions import ValidationError
from django.utils.dateparse import parse_datetime

from shared.forms.text import refuse_unprintable

SCHEMA = 2
"""Of an item. This one and the one before are read; see DEVELOPERS.md before raising it."""
MOST_ITEMS = 50
MOST_BYTES = 1_000_000
LONGEST_VALUE = 5000
_LARGEST = 2**31 - 1
_NAME = 40
_FIELD = 80


class JunkError(Exception):
    """The batch as a whole cannot be read; its sentence says why."""


class ItemError(Exception):
    """One item cannot be taken, now (``retry``) or ever; its sentence says why."""

    def __init__(self, sentence: str, *, retry: bool = False) -> None:
        self.sentence, self.retry = sentence, retry
        super().__init__(sentence)


@dataclass(frozen=True, slots=True)
class Item:
    """One write as the device asked for it.

    ``after`` is the write before this one of the same field on the same device; ``needs``
    the write that makes this one's record, or what that is part of. Since schema 2.
    """

    key: uuid.UUID
    op: str
    kind: str
    record_id: uuid.UUID
    field: str
    value: str
    base: int
    was: str | None
    after: uuid.UUID | None
    needs: uuid.UUID | None
    made_at: dt.datetime | None

    @property
    def digest(self) -> str:
        """What is asked for, in short: the same key may only ask for the same."""
        asked = [self.op, self.kind, str(self.record_id), self.field, self.value]
        return hashlib.sha256(json.dumps(asked).encode()).hexdigest()


@dataclass(frozen=True, slots=True)
class Batch:
    """Writes in the order in which they were made, and whose they are."""

    person: str
    items: tuple[dict[str, Any], ...]


def read_batch(body: bytes) -> Batch:
    """Read a batch; its items are read one by one, so that one spoils no other."""
    if len(body) > MOST_BYTES:
        raise JunkError("This is too much at once. Send fewer at a time.")
    try:
        sent = json.loads(body)
    except (ValueError, RecursionError):
        raise JunkError("This is not JSON.") from None
    items = sent.get("items") if isinstance(sent, dict) else None
    if not isinstance(items, list):
        raise JunkError("A batch is an object with a list called items.")
    if len(items) > MOST_ITEMS:
        raise JunkError(f"Send at most {MOST_ITEMS} at a time.")
    for item in items:
        if not isinstance(item, dict) or _uuid(item.get("key")) is None:
            raise JunkError("Each item needs a key, a UUID made on the device.")
    return Batch(str(sent.get("person", "")), tuple(items))


def key_of(raw: dict[str, Any]) -> str:
    """Return an item's key exactly as the device wrote it, to echo it."""
    return str(raw["key"])


def lane_of(raw: dict[str, Any]) -> str:
    """Return the lane in which an item waits for those before it."""
    return str(raw.get("lane", ""))


def _uuid(text: Any) -> uuid.UUID | None:
    try:
        return uuid.UUID(text) if isinstance(text, str) else None
    except ValueError:
        return None


def _name(text: Any, most: int = _NAME) -> str:
    plain = isinstance(text, str) and text.isascii() and text.isprintable()
    if not isinstance(text, str) or not plain or not 0 < len(text) <= most:
        raise ItemError("This device sent something that can’t be read.")
    return text


def read_item(raw: dict[str, Any]) -> Item:
    """Read one item of a batch."""
    _check_schema(raw.get("schema"))
    key = _uuid(raw.get("key"))
    kind, _, record = str(raw.get("lane", "")).partition(":")
    record_id = _uuid(record)
    if key is None or record_id is None:
        raise ItemError("This device sent something that names no record.")
    base = raw.get("base", 0)
    if isinstance(base, bool) or not isinstance(base, int) or not 0 <= base <= _LARGEST:
        raise ItemError("This device sent a version that is no number.")
    return Item(
        key=key,
        op=_name(raw.get("op")),
        kind=_name(kind),
        record_id=record_id,
        field=_name(raw.get("field"), _FIELD),
        value=_value(raw.get("value")),
        base=base,
        was=raw["was"] if isinstance(raw.get("was"), str) else None,
        after=_uuid(raw.get("after")),
        needs=_uuid(raw.get("needs")),
        made_at=_instant(raw.get("made_at")),
    )


def _check_schema(schema: Any) -> None:
    if isinstance(schema, bool) or not isinstance(schema, int) or schema < SCHEMA - 1:
        raise ItemError(
            "This was typed into a version of the program that is too old to be read."
            " Type it again."
        )
    if schema > SCHEMA:
        raise ItemError("The shop’s server is older than this device.", retry=True)


def _value(value: Any) -> str:
    if not isinstance(value, str):
        raise ItemError("This device sent something that is no text.")
    if len(value) > LONGEST_VALUE:
        raise ItemError(f"This is too long: use at most {LONGEST_VALUE} characters.")
    try:
        refuse_unprintable(value)
    except ValidationError as refused:
        raise ItemError(" ".join(refused.messages)) from None
    return value


def _instant(text: Any) -> dt.datetime | None:
    """Read the device's clock where it can be read; nothing depends on it."""
    try:
        instant = parse_datetime(text) if isinstance(text, str) else None
        return instant.astimezone(dt.UTC) if instant and instant.tzinfo else None
    except (ValueError, OverflowError):
        return None
