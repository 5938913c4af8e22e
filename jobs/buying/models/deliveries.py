"""What came of an order, and the moves that put it into the stores."""

from __future__ import annotations

from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import Q

from jobs.buying.models.orders import Order, OrderLine
from shared.models import AppendOnlyQuerySet, Identified, MoneyField
from shop.catalogue.models import StockMove


class DeliveryQuerySet(models.QuerySet["Delivery"]):
    """Deliveries of an order."""

    def of_order(self, order: Order) -> Self:
        """Return deliveries of one order, the last first, with all that a page shows."""
        lines = DeliveryLine.objects.select_related("line__material", "move")
        rows = self.filter(order=order).select_related("by")
        return rows.order_by("-at").prefetch_related(
            models.Prefetch("lines", queryset=lines)
        )


class Delivery(Identified):
    """What came of an order at one time, with the supplier's own paper."""

    order = models.ForeignKey(
        Order, on_delete=models.PROTECT, related_name="deliveries"
    )
    note_number = models.CharField("delivery note", max_length=60, blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )
    undone_at = models.DateTimeField(null=True, blank=True)

    objects = DeliveryQuerySet.as_manager()

    class Meta:
        ordering = ("at",)

    def __str__(self) -> str:
        return f"{self.order}: {self.note_number or self.at:%d.%m.}"


class DeliveryLine(Identified):
    """So much of a line came, and the move that put it into the stores."""

    delivery = models.ForeignKey(
        Delivery, on_delete=models.PROTECT, related_name="lines"
    )
    line = models.ForeignKey(
        OrderLine, on_delete=models.PROTECT, related_name="deliveries"
    )
    quantity = models.DecimalField(max_digits=12, decimal_places=3)
    move = models.OneToOneField(StockMove, on_delete=models.PROTECT, related_name="+")
    pack_price = MoneyField(
        null=True,
        blank=True,
        help_text="Of a pack, as the delivery note or the bill says. Without tax.",
    )

    objects = AppendOnlyQuerySet.as_manager()

    class Meta:
        ordering = ("delivery", "line")
        constraints = (
            models.CheckConstraint(
                condition=Q(quantity__gt=0),
                name="%(app_label)s_%(class)s_some",
                violation_error_message="Say how much came.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.quantity} of {self.line}"
