"""History in the admin: read, never written."""

from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.db.models import Model
from django.http import HttpRequest

from shared.models import (
    Attachment,
    DeliveryAttempt,
    Entry,
    FieldVersion,
    Message,
    StoredFile,
    Write,
)


class ReadOnlyAdmin(admin.ModelAdmin[Any]):
    """Rows that may be looked at: ledgers, and what only actions may change."""

    def has_add_permission(self, request: HttpRequest) -> bool:
        """Nobody adds by hand."""
        return False

    def has_change_permission(
        self, request: HttpRequest, obj: Model | None = None
    ) -> bool:
        """Nobody changes by hand."""
        return False

    def has_delete_permission(
        self, request: HttpRequest, obj: Model | None = None
    ) -> bool:
        """Nobody deletes by hand."""
        return False


@admin.register(Entry)
class EntryAdmin(ReadOnlyAdmin):
    """Who did what."""

    list_display = ("at", "by", "kind", "verb", "text")
    list_filter = ("kind", "verb")
    list_select_related = ("by",)


@admin.register(Message)
class MessageAdmin(ReadOnlyAdmin):
    """Mail that went or has to go."""


@admin.register(DeliveryAttempt)
class DeliveryAttemptAdmin(ReadOnlyAdmin):
    """Each attempt to hand mail over."""


@admin.register(StoredFile)
class StoredFileAdmin(ReadOnlyAdmin):
    """Files that were stored."""


@admin.register(Write)
class WriteAdmin(ReadOnlyAdmin):
    """What devices wrote while away, and what they were answered."""

    list_display = ("at", "person", "op", "field", "status")
    list_filter = ("status", "op")
    list_select_related = ("person",)


@admin.register(FieldVersion)
class FieldVersionAdmin(ReadOnlyAdmin):
    """How often a field was written."""


@admin.register(Attachment)
class AttachmentAdmin(ReadOnlyAdmin):
    """Photos and other files of records."""

    list_select_related = ("by", "file")
