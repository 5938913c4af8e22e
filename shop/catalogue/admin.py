"""Stock in the admin: every move, price and turn of a piece, to be seen only."""

from __future__ import annotations

from django.contrib import admin

from shared.admin import ReadOnlyAdmin
from shop.catalogue.models import (
    PieceChange,
    PriceChange,
    StockLevel,
    StockMove,
    StockPiece,
)


@admin.register(StockMove)
class StockMoveAdmin(ReadOnlyAdmin):
    """The ledger of all materials together."""

    list_display = ("at", "material", "lot", "quantity", "why", "by")
    list_filter = ("why",)
    list_select_related = ("material", "by")


@admin.register(StockLevel)
class StockLevelAdmin(ReadOnlyAdmin):
    """What the moves add up to."""

    list_display = ("material", "lot", "quantity")
    list_select_related = ("material",)


@admin.register(StockPiece)
class StockPieceAdmin(ReadOnlyAdmin):
    """Single pieces, those used and thrown away as well."""

    list_display = ("code", "material", "state")
    list_filter = ("state",)
    list_select_related = ("material",)


@admin.register(PieceChange)
class PieceChangeAdmin(ReadOnlyAdmin):
    """What became of pieces."""

    list_display = ("at", "piece", "was", "now", "by")
    list_select_related = ("piece", "by")


@admin.register(PriceChange)
class PriceChangeAdmin(ReadOnlyAdmin):
    """What materials cost, and since when."""

    list_display = ("at", "material", "was", "now", "source", "by")
    list_select_related = ("material", "by")
