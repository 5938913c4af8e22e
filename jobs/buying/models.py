"""What jobs need, what is on order, what came, what a job used."""

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

from jobs.board.models import Job, JobState
from jobs.cutting.models import CutPlan
from shared.files.models import StoredFile
from shared.models import AppendOnlyQuerySet, Identified, MoneyField
from shop.catalogue.models import Material, StockMove, Supplier


class NeedSource(models.TextChoices):
    """Where a need comes from."""

    TAKEOFF = "takeoff", "the panels' parts, with the average yield"
    PLAN = "plan", "a cut plan"


class JobNeedQuerySet(models.QuerySet["JobNeed"]):
    """Needs by job and material."""

    def of_open_jobs(self) -> Self:
        """Needs of jobs that are being worked on."""
        return self.filter(job__state=JobState.OPEN)

    def of_job(self, job: Job) -> Self:
        """Needs of one job."""
        return self.filter(job=job)

    def of_material(self, material: Material) -> Self:
        """Needs of one material."""
        return self.filter(material=material)


class JobNeed(Identified):
    """How much of a material a job takes in all, whether used already or not."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="needs")
    material = models.ForeignKey(Material, on_delete=models.PROTECT, related_name="+")
    quantity = models.DecimalField(max_digits=12, decimal_places=3)
    source = models.CharField(
        max_length=7, choices=NeedSource.choices, default=NeedSource.TAKEOFF
    )
    how = models.CharField(max_length=300, blank=True)
    at = models.DateTimeField()

    objects = JobNeedQuerySet.as_manager()

    class Meta:
        ordering = ("job", "material")
        constraints = (
            models.UniqueConstraint(
                fields=("job", "material"), name="%(app_label)s_%(class)s_once"
            ),
            models.CheckConstraint(
                condition=Q(quantity__gt=0, source__in=NeedSource.values),
                name="%(app_label)s_%(class)s_some",
                violation_error_message="A need is more than nothing.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.job}: {self.quantity} {self.material}"


class JobUseQuerySet(models.QuerySet["JobUse"]):
    """Uses by job."""

    def of_job(self, job: Job) -> Self:
        """Return what one job used."""
        return self.filter(job=job)

    def of_open_jobs(self) -> Self:
        """Return what jobs used that are being worked on."""
        return self.filter(job__state=JobState.OPEN)


class JobUse(Identified):
    """The job, and the plan, that a move of stock was for."""

    move = models.OneToOneField(StockMove, on_delete=models.PROTECT, related_name="+")
    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="uses")
    plan = models.ForeignKey(
        CutPlan, on_delete=models.PROTECT, null=True, blank=True, related_name="uses"
    )

    objects = JobUseQuerySet.as_manager()

    def __str__(self) -> str:
        return f"{self.job}: {self.move}"


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


class OrderLineQuerySet(models.QuerySet["OrderLine"]):
    """Lines by what is still to come."""

    def outstanding(self) -> Self:
        """Lines of placed orders that have not all come."""
        return self.filter(order__state=OrderState.PLACED).exclude(
            arrived__gte=F("quantity")
        )

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
