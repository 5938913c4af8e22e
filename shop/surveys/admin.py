"""Surveys in the admin: parts that were taken out are only to be seen here."""

from __future__ import annotations

from django.contrib import admin

from shared.admin import ReadOnlyAdmin
from shop.surveys.models import Beam, Covering, Opening, Spot, Wall, Zone


@admin.register(Opening)
class OpeningAdmin(ReadOnlyAdmin):
    """Openings of every survey, those taken out as well."""

    list_display = ("__str__", "wall", "removed_at")
    list_filter = (("removed_at", admin.EmptyFieldListFilter),)
    list_select_related = ("wall",)


@admin.register(Wall)
class WallAdmin(ReadOnlyAdmin):
    """Walls of every survey, those taken out as well."""

    list_display = ("__str__", "survey", "removed_at")
    list_filter = (("removed_at", admin.EmptyFieldListFilter),)
    list_select_related = ("survey",)


@admin.register(Beam)
class BeamAdmin(ReadOnlyAdmin):
    """Beams of every survey, those taken out as well."""

    list_display = ("__str__", "survey", "removed_at")
    list_filter = (("removed_at", admin.EmptyFieldListFilter),)
    list_select_related = ("survey",)


@admin.register(Zone)
class ZoneAdmin(ReadOnlyAdmin):
    """Places to keep clear of every survey, those taken out as well."""

    list_display = ("__str__", "wall", "removed_at")
    list_filter = (("removed_at", admin.EmptyFieldListFilter),)
    list_select_related = ("wall",)


@admin.register(Covering)
class CoveringAdmin(ReadOnlyAdmin):
    """Finishes of every survey, those taken out as well."""

    list_display = ("__str__", "finish", "survey", "removed_at")
    list_filter = (("removed_at", admin.EmptyFieldListFilter),)
    list_select_related = ("survey", "finish")


@admin.register(Spot)
class SpotAdmin(ReadOnlyAdmin):
    """Places of every survey, those taken out as well."""

    list_display = ("__str__", "survey", "removed_at")
    list_filter = (("removed_at", admin.EmptyFieldListFilter),)
    list_select_related = ("survey",)
