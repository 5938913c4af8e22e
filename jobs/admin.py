"""What the admin shows of jobs: ledgers, read-only."""

from django.contrib import admin

from jobs.models import (
    CutTick,
    DeliveryLine,
    GateEntry,
    LostPart,
    MarkChange,
    StageMove,
    VanTick,
)
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


@admin.register(CutTick)
class CutTickAdmin(ReadOnlyAdmin):
    """Rows of cut plans done at the saw."""

    list_display = ("plan", "key", "ticked", "at", "by")
    list_select_related = ("plan", "by")


@admin.register(LostPart)
class LostPartAdmin(ReadOnlyAdmin):
    """Pieces spoiled at the saw."""

    list_display = ("plan", "part", "count", "note", "at", "by")
    list_select_related = ("plan", "by")


@admin.register(DeliveryLine)
class DeliveryLineAdmin(ReadOnlyAdmin):
    """What came of orders."""

    list_display = ("delivery", "line", "quantity")
    list_select_related = ("delivery__order", "line")
