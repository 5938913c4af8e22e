"""What the admin shows of this app: only what has no page of its own."""

from django.contrib import admin
from django.contrib.auth.models import Group

from shop.catalogue.admin import StockMoveAdmin
from shop.surveys.admin import OpeningAdmin, ZoneAdmin

__all__ = ["OpeningAdmin", "StockMoveAdmin", "ZoneAdmin"]

# Rights come with a person's role; groups would promise what nothing reads.
admin.site.unregister(Group)
