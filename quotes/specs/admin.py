"""Builds in the admin: panels that were taken out of a plan are only to be seen here."""

from __future__ import annotations

from django.contrib import admin

from quotes.specs.models import PlannedPanel
from shared.admin import ReadOnlyAdmin


@admin.register(PlannedPanel)
class PlannedPanelAdmin(ReadOnlyAdmin):
    """Panels of every plan, those taken out as well."""

    list_display = ("__str__", "room", "fabric", "committed_at", "dropped_at")
    list_filter = (("dropped_at", admin.EmptyFieldListFilter),)
    list_select_related = ("spec", "room", "fabric")
