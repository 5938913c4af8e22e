"""What the admin shows of jobs: the ledgers of the bench and the van, read-only."""

from django.contrib import admin

from jobs.models import GateEntry, MarkChange, StageMove, VanTick
from shared.admin import ReadOnlyAdmin


@admin.register(StageMove)
class StageMoveAdmin(ReadOnlyAdmin):
    """Moves of panels."""

    list_display = ("panel", "from_stage", "to_stage", "at", "by")
    list_select_related = ("panel", "by")


@admin.register(MarkChange)
class MarkChangeAdmin(ReadOnlyAdmin):
    """Marks set and taken off."""

    list_display = ("panel", "mark", "was", "now", "at", "by")
    list_select_related = ("panel", "by")


@admin.register(VanTick)
class VanTickAdmin(ReadOnlyAdmin):
    """Lines of van lists ticked."""

    list_display = ("site_day", "key", "ticked", "at", "by")
    list_select_related = ("site_day", "by")


@admin.register(GateEntry)
class GateEntryAdmin(ReadOnlyAdmin):
    """What was said of gates."""

    list_display = ("gate", "was", "now", "note", "at", "by")
    list_select_related = ("gate__job", "gate__material", "by")
