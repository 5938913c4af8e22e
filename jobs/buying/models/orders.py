"""Orders and their lines."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Iterable
from decimal import Decimal
from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.urls import reverse

from shared.files.models import StoredFile
from shared.models import Identified, MoneyField
from shop.catalogue.models import Material, Supplier


class OrderState(models.TextChoices):
    """How far an order is."""

    DRAFT = "draft", "being written"
    PLACED = "placed", "on order"
    ARRIVED = "arrived", "all here"
    CALLED_OFF = "off", "called off"


class OrderQuerySet(models.QuerySet["Order"]):
    """Orders by state and supplier."""

    def drafts(self) -> Self:
        """Orders that are being written."""
        return self.filter(state=OrderState.DRAFT)

    def placed(self) -> Self:
        """Orders that are still to come, the first to come first."""
        return self.filter(state=OrderState.PLACED).order_by("expected_on", "number")

    def late(self, today: dt.date) -> Self:
        """Orders that should have come by now."""
        return self.placed().filter(expected_on__lt=today)

    def to_see_to(self, today: dt.date) -> Self:
        """Drafts, and what arrives today or is late, the longest late first."""
        due = Q(state=OrderState.PLACED, expected_on__lte=today)
        rows = self.filter(Q(state=OrderState.DRAFT) | due)
        return rows.order_by(F("expected_on").asc(nulls_last=True), "number")

    def in_state(self, state: str) -> Self:
        """Orders of one state; all of them for nothing."""
        return self.filter(state=state) if state else self

    def matching(self, words: str) -> Self:
        """Orders in whose number or supplier, or in a line of which, every word is found."""
        found = self
        for word in words.split():
            found = found.filter(
                Q(number__icontains=word)
                | Q(supplier__name__icontains=word)
                | Q(
                    pk__in=OrderLine.objects.filter(name__icontains=word).values(
                        "order"
                    )
                )
            )
        return found

    def open_first(self) -> Self:
        """Drafts, then what is to come, then the rest; of each the last first."""
        ranks = {OrderState.DRAFT: 0, OrderState.PLACED: 1}
        whens = [models.When(state=state, then=rank) for state, rank in ranks.items()]
        return self.order_by(models.Case(*whens, default=2), "-created_at")

    def with_supplier(self) -> Self:
        """With the supplier, and the number of lines."""
        return self.select_related("supplier").annotate(
            line_count=models.Count("lines")
        )

    def newest_first(self) -> Self:
        """Return the last one first."""
        return self.order_by("-created_at")


class Order(Identified):
    """What is ordered of one supplier at one time."""

    number = models.CharField(max_length=16, unique=True)
    supplier = models.ForeignKey(Supplier, on_delete=models.PROTECT, related_name="+")
    state = models.CharField(
        max_length=7, choices=OrderState.choices, default=OrderState.DRAFT
    )
    note = models.TextField(
        max_length=2000, blank=True, help_text="Goes on the paper, to the supplier."
    )
    expected_on = models.DateField(null=True, blank=True)
    placed_at = models.DateTimeField(null=True, blank=True)
    placed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
    )
    pdf = models.ForeignKey(
        StoredFile,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
        help_text="The paper as it went out.",
    )

    objects = OrderQuerySet.as_manager()

    class Meta:
        ordering = ("-created_at",)
        constraints = (
            models.CheckConstraint(
                condition=Q(state__in=OrderState.values),
                name="%(app_label)s_%(class)s_state_known",
                violation_error_message="The state of the order is not known.",
            ),
            models.CheckConstraint(
                condition=~Q(state__in=(OrderState.PLACED, OrderState.ARRIVED))
                | Q(placed_at__isnull=False, expected_on__isnull=False),
                name="%(app_label)s_%(class)s_placed_has_time",
                violation_error_message="A placed order says when, and when it comes.",
            ),
        )
        indexes = (
            # next up and the list ask by state and day
            models.Index(fields=("state", "expected_on"), name="order_state"),
        )

    def __str__(self) -> str:
        return self.number

    def get_absolute_url(self) -> str:
        """Return the order's page."""
        return reverse("jobs:order", args=(self.pk,))

    @property
    def is_draft(self) -> bool:
        """Whether it can still be changed."""
        return self.state == OrderState.DRAFT

    @property
    def is_placed(self) -> bool:
        """Whether something of it is still to come."""
        return self.state == OrderState.PLACED


class OrderLineQuerySet(models.QuerySet["OrderLine"]):
    """Lines by what is still to come."""

    def outstanding(self) -> Self:
        """Lines of placed orders that have not all come."""
        return self.filter(order__state=OrderState.PLACED).exclude(
            arrived__gte=F("quantity")
        )

    def not_all_here(self) -> Self:
        """Lines of any order that have not all come."""
        return self.exclude(arrived__gte=F("quantity"))

    def coming(self) -> Self:
        """Lines that have not all come, of placed orders and of drafts, with both rows."""
        states = (OrderState.PLACED, OrderState.DRAFT)
        rows = self.filter(order__state__in=states).exclude(arrived__gte=F("quantity"))
        return rows.select_related("order", "material__supplier")

    def with_material(self) -> Self:
        """With the material as it is now."""
        return self.select_related("material__supplier")

    def of_materials(self, ids: Iterable[uuid.UUID]) -> Self:
        """Lines for several materials."""
        return self.filter(material__in=tuple(ids))


class OrderLine(Identified):
    """So many packs of one material; name and price as they were when ordered."""

    order = models.ForeignKey(Order, on_delete=models.CASCADE, related_name="lines")
    material = models.ForeignKey(Material, on_delete=models.PROTECT, related_name="+")
    name = models.CharField(max_length=120)
    supplier_code = models.CharField(max_length=60, blank=True)
    lot = models.CharField(
        "dye lot", max_length=40, blank=True, help_text="The lot that was signed for."
    )
    packs = models.DecimalField(
        max_digits=10,
        decimal_places=3,
        help_text="Whole packs; metres for what is cut off the roll.",
    )
    pack_quantity = models.DecimalField(max_digits=10, decimal_places=3)
    quantity = models.DecimalField(
        max_digits=12, decimal_places=3, help_text="In the material's own count."
    )
    pack_price = MoneyField(null=True, blank=True)
    arrived = models.DecimalField(max_digits=12, decimal_places=3, default=Decimal(0))
    how = models.CharField(max_length=300, blank=True, help_text="Why so many.")

    objects = OrderLineQuerySet.as_manager()

    class Meta:
        ordering = ("order", "name")
        constraints = (
            models.UniqueConstraint(
                fields=("order", "material", "lot"),
                name="%(app_label)s_%(class)s_material_once",
                violation_error_message="This material is on the order already.",
            ),
            models.CheckConstraint(
                condition=Q(packs__gt=0, pack_quantity__gt=0, quantity__gt=0)
                & Q(arrived__gte=0),
                name="%(app_label)s_%(class)s_some",
                violation_error_message="Order more than nothing.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.packs} × {self.name}"

    @property
    def outstanding(self) -> Decimal:
        """What is still to come; nothing once more came than was ordered."""
        return max(Decimal(0), self.quantity - self.arrived)

    @property
    def net(self) -> Decimal | None:
        """What the packs cost without tax, unrounded."""
        return None if self.pack_price is None else self.packs * self.pack_price
