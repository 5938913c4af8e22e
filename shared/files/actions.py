"""Keep bytes under their own hash."""

from __future__ import annotations

import hashlib

from django.core.files.base import ContentFile

from shared.files.models import StoredFile, private_storage


def write_bytes(data: bytes) -> tuple[str, str]:
    """Write bytes to private storage outside any transaction; give path and SHA-256.

    The same bytes always land at the same path, so that a crash between this and the
    row leaves nothing that matters.
    """
    digest = hashlib.sha256(data).hexdigest()
    path = f"{digest[:2]}/{digest}"
    storage = private_storage()
    if not storage.exists(path):
        path = storage.save(path, ContentFile(data))
    return path, digest


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
