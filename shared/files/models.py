"""Files that are served by views which check access, never by a public folder."""

from __future__ import annotations

from django.core.files.storage import storages
from django.core.files.storage.base import Storage
from django.db import models

from shared.records import Identified


def private_storage() -> Storage:
    """Return the folder that no web server serves by itself."""
    return storages["private"]


class StoredFile(Identified):
    """Bytes kept under their own hash, so that an orphan is harmless and a repeat is free."""

    name = models.CharField(
        max_length=200, help_text="What the reader's device calls it."
    )
    content_type = models.CharField(max_length=100)
    sha256 = models.CharField(max_length=64)
    size = models.PositiveIntegerField()
    content = models.FileField(storage=private_storage, max_length=200)

    class Meta:
        constraints = (
            models.CheckConstraint(
                condition=models.Q(sha256__regex=r"^[0-9a-f]{64}$"),
                name="%(app_label)s_%(class)s_sha256_is_hex",
                violation_error_message="The hash must be 64 hexadecimal digits.",
            ),
        )

    def __str__(self) -> str:
        return self.name

    def read(self) -> bytes:
        """Return the bytes, from storage."""
        with self.content.open("rb") as stream:
            data: bytes = stream.read()
        return data
