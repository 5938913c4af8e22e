"""Files that are served by views which check access, never by a public folder."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Self

from django.conf import settings
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


class AttachmentQuerySet(models.QuerySet["Attachment"]):
    """Attachments by what they belong to."""

    def standing(self) -> Self:
        """Leave out what was taken out again."""
        return self.filter(removed_at__isnull=True)

    def of(self, kind: str, record_id: object) -> Self:
        """Files of one record, with who added them, in that order."""
        return self.of_any([kind], [record_id])

    def of_kinds(self, kinds: Iterable[str]) -> Self:
        """Files of all records of some kinds."""
        return self.filter(kind__in=list(kinds))

    def of_any(self, kinds: Iterable[str], record_ids: Iterable[object]) -> Self:
        """Files of records of some kinds, with who added them, in that order."""
        rows = self.of_kinds(kinds).filter(record_id__in=list(record_ids))
        return rows.select_related("by").order_by("at", "created_at")


class Attachment(Identified):
    """A file that belongs to a record of any kind, as a photo does to a room."""

    kind = models.CharField(max_length=40)
    record_id = models.UUIDField()
    file = models.ForeignKey(StoredFile, on_delete=models.PROTECT, related_name="+")
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )
    at = models.DateTimeField()
    removed_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = AttachmentQuerySet.as_manager()

    class Meta:
        ordering = ("at",)
        indexes = (
            # the photos on each record's page
            models.Index(fields=("kind", "record_id"), name="attachment_record"),
        )

    def __str__(self) -> str:
        return f"{self.kind}: {self.file_id}"
