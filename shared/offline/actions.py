"""Store what a device wrote, each key once, with its answer in the same transaction."""

from __future__ import annotations

import datetime as dt
import logging
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any

from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from shared.access import may
from shared.files.pictures import (
    NotAPictureError,
    Picture,
    keep_picture,
    write_picture,
)
from shared.offline.batch import Batch, Item, ItemError, key_of, lane_of, read_item
from shared.offline.models import FieldVersion, Status, Write
from shared.offline.registry import Forbidden, Op, Refused, find, knows

logger = logging.getLogger("cleatbook.offline")

Answer = dict[str, Any]

Judge = Callable[[Op, Item, "_Seen", Any, dt.datetime], Answer]

RETRY = {"status": "retry", "sentence": "That did not go through; it is kept here."}


def answer_batch(batch: Batch, *, by: Any, at: dt.datetime) -> list[Answer]:
    """Answer each item in order; after a ``retry`` the rest of its lane waits, too."""
    answers: list[Answer] = []
    waiting: set[str] = set()
    for raw in batch.items:
        lane = lane_of(raw)
        answer = RETRY if lane in waiting else _answer(raw, by=by, at=at)
        if answer["status"] == "retry":
            waiting.add(lane)
        answers.append({"key": key_of(raw)} | answer)
    return answers


def _answer(raw: dict[str, Any], *, by: Any, at: dt.datetime) -> Answer:
    try:
        return store(read_item(raw), by=by, at=at)
    except ItemError as wrong:
        status = "retry" if wrong.retry else "refused"
        return {"status": status, "sentence": wrong.sentence}
    except Exception:
        logger.exception("A write from a device failed.")
        return RETRY


def store_picture(item: Item, data: bytes, *, by: Any, at: dt.datetime) -> Answer:
    """Store one picture, its value being the hash of what was sent."""
    try:
        picture = _written(item, data)
        return store(item, by=by, at=at, judge=partial(_attach, picture))
    except ItemError as wrong:
        status = "retry" if wrong.retry else "refused"
        return {"status": status, "sentence": wrong.sentence}
    except Exception:
        logger.exception("A picture from a device failed.")
        return RETRY


def _written(item: Item, data: bytes) -> Picture | Refused | None:
    """Put a picture into storage, before the transaction, if it did not come before."""
    if _before(item) is not None:
        return None
    try:
        return write_picture(data)
    except NotAPictureError as wrong:
        return Refused(str(wrong))


def store(
    item: Item, *, by: Any, at: dt.datetime, judge: Judge | None = None
) -> Answer:
    """Store one write, or give the answer that its key got before."""
    try:
        with transaction.atomic():
            before = _before(item)
            if before is not None:
                return _again(before, item, by)
            return _first(item, by=by, at=at, judge=judge or _judge)
    except IntegrityError:
        # The same key came twice at once, and the other one was first.
        before = _before(item)
        if before is None:
            raise
        return _again(before, item, by)


def _before(item: Item) -> Write | None:
    before: Write | None = Write.objects.filter(pk=item.key).first()
    return before


def _again(before: Write, item: Item, by: Any) -> Answer:
    if before.person_id != by.pk or before.digest != item.digest:
        raise ItemError("This key was used for something else.")
    answer: Answer = before.answer
    repeat = {"status": "repeat"} if before.status == Status.STORED else {}
    return answer | repeat


@dataclass(frozen=True, slots=True)
class _Seen:
    """What the person saw before writing: a version, and its text where known."""

    base: int
    was: str | None


def _first(item: Item, *, by: Any, at: dt.datetime, judge: Judge) -> Answer:
    seen = _Seen(item.base, item.was)
    try:
        op = _op(item, by)
        _check_needed(item)
        seen = _seen(item)
        answer = judge(op, item, seen, by, at)
    except Refused as refused:
        answer = {"status": Status.REFUSED.value, "sentence": refused.sentence}
    Write.objects.create(
        key=item.key,
        person=by,
        at=at,
        made_at=item.made_at,
        op=item.op,
        kind=item.kind,
        record_id=item.record_id,
        field=item.field,
        base=seen.base,
        digest=item.digest,
        status=answer["status"],
        answer=answer,
    )
    return answer


def _op(item: Item, by: Any) -> Op:
    op = find(item.op)
    if op is None or not knows(op, item.kind, item.field):
        raise Refused("This version of the program does not know what this changes.")
    if not may(by, op.right):
        raise Forbidden
    return op


def _check_needed(item: Item) -> None:
    """Wait for the write that makes the record; without it this one has nowhere to go."""
    if item.needs is None:
        return
    needed: Write | None = Write.objects.filter(pk=item.needs).first()
    if needed is None:
        raise ItemError("What this belongs to has not arrived yet.", retry=True)
    if needed.status != Status.STORED:
        raise Refused("What this belongs to was not taken.")


def _seen(item: Item) -> _Seen:
    """Follow the write before this one on the same device, where there is one."""
    if item.after is None:
        return _Seen(item.base, item.was)
    before = Write.objects.filter(
        pk=item.after, kind=item.kind, record_id=item.record_id, field=item.field
    ).first()
    if before is None:
        raise ItemError("What was typed before this has not arrived yet.", retry=True)
    if before.status == Status.STORED:
        return _Seen(before.answer["version"], before.answer["value"])
    return _Seen(before.base, item.was)


def _attach(
    picture: Picture | Refused | None,
    op: Op,
    item: Item,
    _: _Seen,
    by: Any,
    at: dt.datetime,
) -> Answer:
    """Add a picture to the record."""
    if isinstance(picture, Refused):
        raise picture
    if picture is None or not op.takes_picture:
        raise Refused("This takes no pictures.")
    with transaction.atomic():
        file = keep_picture(picture)
        op.write(by, item.record_id, item.field, str(file.pk), at)
    return {"status": Status.STORED.value, "version": 0, "value": str(file.pk)}


def _judge(op: Op, item: Item, seen: _Seen, by: Any, at: dt.datetime) -> Answer:
    """Change the record, unless it is no longer what the person saw."""
    if op.takes_picture:
        raise Refused("This takes pictures only.")
    if op.makes_record:
        _change(op, item, by, at)
        return {"status": Status.STORED.value, "version": 1, "value": item.value}
    row, now = _row(op, item, at)
    moved = seen.base != row.version and (seen.was is None or not _same(seen.was, now))
    if moved and not _same(item.value, now):
        return _conflict(item, seen, row)
    _change(op, item, by, at)
    stored = op.read(item.record_id, item.field)
    row.version, row.value, row.by, row.at = row.version + 1, stored, by, at
    row.save()
    return {"status": Status.STORED.value, "version": row.version, "value": stored}


def _change(op: Op, item: Item, by: Any, at: dt.datetime) -> None:
    """Change the record, all or nothing; what its form refuses is refused for good."""
    try:
        with transaction.atomic():
            op.write(by, item.record_id, item.field, item.value, at)
    except ValidationError as wrong:
        raise Refused(" ".join(wrong.messages)) from wrong


def _row(op: Op, item: Item, at: dt.datetime) -> tuple[FieldVersion, str]:
    """Lock a field's version and read its value; a form may have changed it meanwhile."""
    row, made = FieldVersion.objects.select_for_update().get_or_create(
        kind=item.kind, record_id=item.record_id, field=item.field
    )
    now = op.read(item.record_id, item.field)
    if made:
        row.value = now
        row.save(update_fields=["value"])
    elif not _same(row.value, now):
        row.version, row.value, row.by, row.at = row.version + 1, now, None, at
        row.save()
    return row, now


def _same(one: str, other: str) -> bool:
    return one.replace("\r\n", "\n").strip() == other.replace("\r\n", "\n").strip()


def _conflict(item: Item, seen: _Seen, row: FieldVersion) -> Answer:
    """Give both values and versions: a person chooses."""
    return {
        "status": Status.CONFLICT.value,
        "mine": item.value,
        "base": seen.base,
        "value": row.value,
        "version": row.version,
        "by": str(row.by or ""),
        "sentence": "This was changed elsewhere meanwhile. Choose which one counts.",
    }
