"""Keep bytes under their own hash; add them to records."""

from __future__ import annotations

import datetime as dt
import hashlib
import os
import uuid
from pathlib import Path
from typing import Any

from django.core.files.base import ContentFile
from django.core.files.storage.base import Storage
from django.db import transaction
from django.db.models import Model

from shared.audit.actions import record
from shared.files.models import Attachment, StoredFile, private_storage


def write_bytes(data: bytes) -> tuple[str, str]:
    """Write bytes to private storage outside any transaction; give path and SHA-256.

    The same bytes always land at the same path, so that a crash between this and the
    row leaves nothing that matters. Bytes stand at their path whole or not at all, and
    are on the disk before it is given; a file of another size is written anew.
    """
    digest = hashlib.sha256(data).hexdigest()
    path = f"{digest[:2]}/{digest}"
    storage = private_storage()
    if not storage.exists(path) or storage.size(path) != len(data):
        _write_whole(storage, path, data)
    return path, digest


def _write_whole(storage: Storage, path: str, data: bytes) -> None:
    """Write beside the path and take its name in one step: nobody meets half a file."""
    part = Path(storage.path(storage.save(f"{path}.part", ContentFile(data))))
    whole = Path(storage.path(path))
    _flush(part)
    part.replace(whole)
    for folder in (whole.parent, whole.parent.parent):
        _flush(folder)


def _flush(place: Path) -> None:
    """Have the disk take a file's bytes, or a folder's names, now."""
    opened = os.open(place, os.O_RDONLY)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)


def keep(data: bytes, *, name: str, content_type: str) -> StoredFile:
    """Write bytes and make their row (the row belongs in the caller's transaction)."""
    path, digest = write_bytes(data)
    return keep_written(
        path, digest=digest, size=len(data), name=name, content_type=content_type
    )


def keep_written(
    path: str, *, digest: str, size: int, name: str, content_type: str
) -> StoredFile:
    """Make the row of bytes that `write_bytes` has already put in storage."""
    return StoredFile.objects.create(
        name=name, content_type=content_type, sha256=digest, size=size, content=path
    )


@transaction.atomic
def attach(subject: Model, file_id: uuid.UUID, *, by: Any, at: dt.datetime) -> None:
    """Add a stored picture to a record."""
    Attachment.objects.create(
        kind=subject._meta.model_name or "",
        record_id=subject.pk,
        file_id=file_id,
        by=by,
        at=at,
    )
    record(subject, verb="photo", text="Photo added", by=by, at=at)


@transaction.atomic
def set_removed(
    attachment: Attachment, subject: Model, *, removed: bool, by: Any, at: dt.datetime
) -> None:
    """Take a picture out of its record, or put it back."""
    attachment.removed_at = at if removed else None
    attachment.save(update_fields=["removed_at"])
    text = "Photo taken out" if removed else "Photo put back"
    record(subject, verb="photo", text=text, by=by, at=at)
