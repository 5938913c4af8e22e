"""What lies in the stores: a ledger of moves, what they add up to, and single pieces."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Iterable
from decimal import Decimal
from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import Max, Q, Sum
from django.urls import reverse

from shared.models import AppendOnlyQuerySet, Identified, LengthField, MoneyField
from shop.catalogue.models.materials import Material


class StockReason(models.TextChoices):
    """Why something came into the stores or left them."""

    DELIVERED = "delivered", "delivered"
    USED = "used", "used"
    BACK = "back", "put back"
    COUNTED = "counted", "counted"


class StockMoveQuerySet(AppendOnlyQuerySet):
    """Moves of stock by what they belong to."""

    def of_material(self, material: Material) -> Self:
        """Return moves of one material, the last first."""
        return self.filter(material=material).select_related("by", "undone_by__by")

    def with_material(self) -> Self:
        """With the material, which messages name."""
        return self.select_related("material")

    def undoing(self, move: StockMove) -> StockMove | None:
        """Return the move that took this one back, if any did."""
        found: StockMove | None = self.filter(undoes=move).select_related("by").first()
        return found

    def counts_after(self, move: StockMove) -> Self:
        """Return counts of the same material and lot since, save those taken back."""
        counts = self.filter(material=move.material_id, lot=move.lot)
        return counts.counts_that_stand().filter(created_at__gt=move.created_at)

    def counts_that_stand(self) -> Self:
        """Return counts that were not taken back."""
        return self.filter(why=StockReason.COUNTED, undoes=None, undone_by=None)

    def last_counts(self, material: Material) -> dict[str, dt.datetime]:
        """Say when each dye lot of a material was last set by a count."""
        counts = self.filter(material=material).counts_that_stand().order_by()
        return dict(counts.values_list("lot").annotate(Max("created_at")))

    def sums_by_reason(self, material: Material) -> dict[str, Decimal]:
        """Add up what came and went of a material, by why."""
        sums = self.filter(material=material).order_by("why").values_list("why")
        return dict(sums.annotate(Sum("quantity")))


class StockMove(Identified):
    """So much of a material came or went, by whom; an undo is a move of its own."""

    material = models.ForeignKey(
        Material, on_delete=models.PROTECT, related_name="stock_moves"
    )
    lot = models.CharField("dye lot", max_length=40, blank=True)
    quantity = models.DecimalField(
        max_digits=12,
        decimal_places=3,
        help_text="In the material's own count: sheets, metres, pieces. Less than nothing:"
        " it went.",
    )
    why = models.CharField(max_length=10, choices=StockReason.choices)
    note = models.CharField(max_length=200, blank=True)
    unit_cost = MoneyField(null=True, blank=True, help_text="Without tax.")
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )
    undoes = models.OneToOneField(
        "self",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="undone_by",
    )

    objects = StockMoveQuerySet.as_manager()

    class Meta:
        ordering = ("-at", "-created_at")
        constraints = (
            models.CheckConstraint(
                condition=~Q(quantity=0),
                name="%(app_label)s_%(class)s_moves_something",
                violation_error_message="Say how much came or went.",
            ),
            models.CheckConstraint(
                condition=Q(why__in=StockReason.values),
                name="%(app_label)s_%(class)s_reason_known",
                violation_error_message="Say why it came or went.",
            ),
            models.CheckConstraint(
                condition=~Q(why=StockReason.COUNTED) | ~Q(note=""),
                name="%(app_label)s_%(class)s_count_has_reason",
                violation_error_message="Say why the count differs.",
            ),
        )
        indexes = (
            # a material's page lists its moves
            models.Index(fields=("material", "-at"), name="stockmove_material"),
        )

    def __str__(self) -> str:
        return f"{self.quantity:+f} {self.material}"


class StockLevelQuerySet(models.QuerySet["StockLevel"]):
    """What lies in the stores, by material."""

    def of_materials(self, ids: Iterable[uuid.UUID]) -> Self:
        """Levels of several materials."""
        return self.filter(material__in=tuple(ids))


class StockLevel(Identified):
    """What the moves of a material and dye lot add up to, kept beside them."""

    material = models.ForeignKey(
        Material, on_delete=models.PROTECT, related_name="stock_levels"
    )
    lot = models.CharField("dye lot", max_length=40, blank=True)
    quantity = models.DecimalField(max_digits=12, decimal_places=3, default=Decimal(0))

    objects = StockLevelQuerySet.as_manager()

    class Meta:
        ordering = ("material", "lot")
        constraints = (
            models.UniqueConstraint(
                fields=("material", "lot"), name="%(app_label)s_%(class)s_once"
            ),
        )

    def __str__(self) -> str:
        return f"{self.quantity} {self.material}"


class PieceState(models.TextChoices):
    """Whether a piece can still be used."""

    KEPT = "kept", "kept"
    USED = "used", "used"
    GONE = "gone", "thrown away"


class StockPieceQuerySet(models.QuerySet["StockPiece"]):
    """Single pieces by material and state."""

    def with_material(self) -> Self:
        """With the material, which lists and labels name."""
        return self.select_related("material")

    def found_by(
        self, *, number: int | None, length_ticks: int, width_ticks: int
    ) -> Self:
        """Return the piece of a number, or kept ones of a size at least, either way round.

        The smallest first, since that is the one to use up.
        """
        found = self.select_related("material")
        if number is not None:
            return found.filter(number=number)
        as_it_lies = Q(length_ticks__gte=length_ticks, width_ticks__gte=width_ticks)
        turned = Q(length_ticks__gte=width_ticks, width_ticks__gte=length_ticks)
        return found.filter(as_it_lies | turned, state=PieceState.KEPT).order_by(
            "material__kind",
            "material__name",
            "material",
            "length_ticks",
            "width_ticks",
            "number",
        )

    def kept(self) -> Self:
        """Pieces that can be used, the largest last."""
        return self.filter(state=PieceState.KEPT).order_by(
            "material", "length_ticks", "width_ticks", "number"
        )

    def of_material(self, material: Material) -> Self:
        """Pieces of one material."""
        return self.filter(material=material)

    def of_materials(self, ids: Iterable[uuid.UUID]) -> Self:
        """Pieces of several materials."""
        return self.filter(material__in=tuple(ids))


class StockPiece(Identified):
    """An offcut or a remnant with its own size, by the number written on it."""

    material = models.ForeignKey(
        Material, on_delete=models.PROTECT, related_name="pieces"
    )
    number = models.PositiveIntegerField(unique=True)
    length_ticks = LengthField("length", help_text="Along the grain, or off the roll.")
    length_text = models.CharField(max_length=40, blank=True)
    width_ticks = LengthField("width")
    width_text = models.CharField(max_length=40, blank=True)
    lot = models.CharField("dye lot", max_length=40, blank=True)
    note = models.CharField(
        max_length=200, blank=True, help_text="Where it stands, or what is wrong."
    )
    state = models.CharField(
        max_length=5, choices=PieceState.choices, default=PieceState.KEPT
    )

    objects = StockPieceQuerySet.as_manager()

    class Meta:
        ordering = ("number",)
        constraints = (
            models.CheckConstraint(
                condition=Q(length_ticks__gt=0, width_ticks__gt=0),
                name="%(app_label)s_%(class)s_size_positive",
                violation_error_message="A piece has a length and a width.",
            ),
            models.CheckConstraint(
                condition=Q(state__in=PieceState.values),
                name="%(app_label)s_%(class)s_state_known",
                violation_error_message="Say whether the piece is still there.",
            ),
        )
        indexes = (
            # a cut plan looks for kept pieces of its material
            models.Index(fields=("material", "state"), name="stockpiece_material"),
        )

    def __str__(self) -> str:
        return self.code

    def get_absolute_url(self) -> str:
        """Return the page of its material, where it is listed."""
        return reverse("shop:material", args=(self.material_id,))

    @property
    def code(self) -> str:
        """What is written on it."""
        return f"K{self.number}"


class PieceChange(Identified):
    """A piece was kept, used, thrown away or found again, by whom."""

    piece = models.ForeignKey(
        StockPiece, on_delete=models.PROTECT, related_name="changes"
    )
    was = models.CharField(max_length=5, choices=PieceState.choices, blank=True)
    now = models.CharField(max_length=5, choices=PieceState.choices)
    note = models.CharField(max_length=200, blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = AppendOnlyQuerySet.as_manager()

    class Meta:
        ordering = ("-at", "-created_at")

    def __str__(self) -> str:
        return f"{self.piece}: {self.now}"


class PriceChangeQuerySet(AppendOnlyQuerySet):
    """What a material cost, and since when."""

    def of_material(self, material: Material) -> Self:
        """Return changes of one material's price, the last first."""
        return self.filter(material=material).select_related("by")


class PriceChange(Identified):
    """A material's price changed, by whom and on whose word."""

    material = models.ForeignKey(
        Material, on_delete=models.PROTECT, related_name="price_changes"
    )
    was = MoneyField("pack price before", null=True, blank=True)
    now = MoneyField("pack price after", null=True, blank=True)
    pack_was = models.DecimalField(max_digits=10, decimal_places=3)
    pack_now = models.DecimalField(max_digits=10, decimal_places=3)
    source = models.CharField(max_length=200)
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = PriceChangeQuerySet.as_manager()

    class Meta:
        ordering = ("-at", "-created_at")

    def __str__(self) -> str:
        return f"{self.material}: {self.was} → {self.now}"
