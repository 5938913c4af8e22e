"""Cut plans, and the panels in them."""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse

from jobs.board.models import Job, Panel
from jobs.cutting.models.rules import Halving
from shared.models import Identified, LengthField
from shop.catalogue.models import Material


class CutKind(models.TextChoices):
    """What is cut, and so how."""

    SHEETS = "sheets", "sheets"
    BARS = "bars", "boards and battens"
    ROLL = "roll", "fabric on the roll"
    FILL = "fill", "fill"


class CutState(models.TextChoices):
    """How far a cut plan is."""

    ASKED = "asked", "to be planned"
    PLANNING = "planning", "being planned"
    PLANNED = "planned", "planned"
    REFUSED = "refused", "can't be planned"
    STOPPED = "stopped", "stopped"
    CUT = "cut", "all cut"
    REPLACED = "replaced", "planned anew"


OPEN = (CutState.ASKED, CutState.PLANNING, CutState.PLANNED, CutState.REFUSED)
"""States of plans that something is still to be done about."""


LARGE = ("panel__snapshot", "plan__request", "plan__result")
"""Columns that lists of panels in plans leave out."""


class CutPlanQuerySet(models.QuerySet["CutPlan"]):
    """Cut plans by state and job."""

    def standing(self) -> Self:
        """Plans that count: neither stopped nor planned anew."""
        return self.exclude(
            state__in=(CutState.STOPPED, CutState.REPLACED, CutState.REFUSED)
        )

    def open_or_cut(self) -> Self:
        """Plans that something is to be done about, or was: the newest first."""
        return self.filter(state__in=(*OPEN, CutState.CUT)).order_by("-number")

    def of_job(self, job: Job) -> Self:
        """Plans that some panel of a job is in."""
        return self.filter(plan_panels__panel__job=job).distinct()

    def with_material(self) -> Self:
        """With the material; without the whole plans, which are large."""
        return self.select_related("material").defer("request", "result")

    def for_page(self) -> Self:
        """With what a plan's page names: material, people, the plans before and after."""
        ends = ("replaces", "replaced_by")
        large = [f"{end}__{name}" for end in ends for name in ("request", "result")]
        people = ("asked_by", "checked_by")
        return self.select_related("material", *people, *ends).defer(*large)

    def newest_first(self) -> Self:
        """Return the last one first."""
        return self.order_by("-number")

    def by_ids(self, ids: Iterable[uuid.UUID]) -> Self:
        """Plans of these ids."""
        return self.filter(pk__in=tuple(ids))

    def in_work(self, pk: uuid.UUID) -> Self:
        """Return the plan of an id while it is to be made, or is being made."""
        return self.filter(pk=pk, state__in=(CutState.ASKED, CutState.PLANNING))

    def rolls_to_cut(self, material: Material) -> Self:
        """Plans of a cloth that are made and not cut yet."""
        return self.filter(material=material, kind=CutKind.ROLL, state=CutState.PLANNED)

    def with_counts(self) -> Self:
        """With `panel_count`, how many panels it is for."""
        return self.annotate(panel_count=models.Count("plan_panels"))

    def open_first(self) -> Self:
        """Plans that something is still to be done about, then the rest; the newest first."""
        is_open = models.Case(models.When(state__in=OPEN, then=0), default=1)
        return self.order_by(is_open, "-number")


class CutPlan(Identified):
    """How the parts of some panels come out of one material.

    Settings and sizes are kept with the plan: it is printed long after they changed.
    """

    number = models.PositiveIntegerField(unique=True)
    kind = models.CharField(max_length=6, choices=CutKind.choices)
    material = models.ForeignKey(Material, on_delete=models.PROTECT, related_name="+")
    state = models.CharField(
        max_length=8, choices=CutState.choices, default=CutState.ASKED
    )
    # as the tape and the calliper say, asked for before a cut list prints
    real_thickness_ticks = LengthField("real thickness", null=True, blank=True)
    real_thickness_text = models.CharField(max_length=40, blank=True)
    real_length_ticks = LengthField("real length", null=True, blank=True)
    real_length_text = models.CharField(max_length=40, blank=True)
    real_width_ticks = LengthField("real width", null=True, blank=True)
    real_width_text = models.CharField(max_length=40, blank=True)
    checked_at = models.DateTimeField(null=True, blank=True)
    checked_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
    )
    kerf_ticks = LengthField("saw's cut", default=0)
    trim_ticks = LengthField("trim", default=0)
    halving = models.CharField(
        max_length=10, choices=Halving.choices, default=Halving.WHOLE
    )
    may_trim_strips = models.BooleanField(default=True)
    keep_length_ticks = LengthField(default=96_000)
    keep_width_ticks = LengthField(default=25_600)
    flaw_percent = models.DecimalField(max_digits=5, decimal_places=2, default=0)
    repair_ticks = LengthField(default=0)
    lot = models.CharField("dye lot", max_length=40, blank=True)
    # what the engine was given and what it answered, with its version: frozen
    request = models.JSONField(null=True, blank=True)
    result = models.JSONField(null=True, blank=True)
    engine_version = models.CharField(max_length=12, blank=True)
    pieces_used = models.PositiveIntegerField(
        "sheets, boards or rolls", null=True, blank=True
    )
    price = models.BigIntegerField("price in minor units", null=True, blank=True)
    lower_bound = models.BigIntegerField(null=True, blank=True)
    yield_percent = models.DecimalField(
        max_digits=5, decimal_places=2, null=True, blank=True
    )
    work_done = models.PositiveIntegerField(default=0)
    stop_wanted = models.BooleanField(default=False)
    refusal = models.CharField(max_length=300, blank=True)
    replaces = models.OneToOneField(
        "self",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="replaced_by",
    )
    asked_at = models.DateTimeField()
    asked_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )
    planned_at = models.DateTimeField(null=True, blank=True)
    cut_at = models.DateTimeField(null=True, blank=True)

    objects = CutPlanQuerySet.as_manager()

    class Meta:
        ordering = ("-number",)
        constraints = (
            models.CheckConstraint(
                condition=Q(
                    kind__in=CutKind.values,
                    state__in=CutState.values,
                    halving__in=Halving.values,
                ),
                name="%(app_label)s_%(class)s_choices_known",
                violation_error_message="Choose what is cut, and how.",
            ),
            models.CheckConstraint(
                condition=~Q(state__in=(CutState.PLANNED, CutState.CUT))
                | Q(
                    result__isnull=False,
                    pieces_used__isnull=False,
                    planned_at__isnull=False,
                ),
                name="%(app_label)s_%(class)s_planned_has_plan",
                violation_error_message="A planned cut has a plan.",
            ),
            models.CheckConstraint(
                condition=~Q(state=CutState.REFUSED) | ~Q(refusal=""),
                name="%(app_label)s_%(class)s_refused_says_why",
                violation_error_message="Say why it can't be planned.",
            ),
            models.CheckConstraint(
                condition=Q(kerf_ticks__gte=0, trim_ticks__gte=0, repair_ticks__gte=0)
                & (Q(real_thickness_ticks__isnull=True) | Q(real_thickness_ticks__gt=0))
                & (Q(real_length_ticks__isnull=True) | Q(real_length_ticks__gt=0))
                & (Q(real_width_ticks__isnull=True) | Q(real_width_ticks__gt=0)),
                name="%(app_label)s_%(class)s_sizes_not_negative",
                violation_error_message="Sizes are more than nothing.",
            ),
        )
        indexes = (
            # the list shows what is not finished first
            models.Index(fields=("state", "-number"), name="cutplan_state"),
        )

    def __str__(self) -> str:
        return self.code

    def get_absolute_url(self) -> str:
        """Return the plan's page."""
        return reverse("jobs:cut-plan", args=(self.pk,))

    @property
    def code(self) -> str:
        """What people call it."""
        return f"C{self.number}"

    @property
    def is_wood(self) -> bool:
        """Whether a saw cuts it."""
        return self.kind in (CutKind.SHEETS, CutKind.BARS)

    @property
    def is_roll(self) -> bool:
        """Whether cloth is cut off a roll."""
        return self.kind == CutKind.ROLL

    @property
    def is_fill(self) -> bool:
        """Whether a knife cuts it."""
        return self.kind == CutKind.FILL

    @property
    def place(self) -> str:
        """Where it is cut."""
        return "saw" if self.is_wood else "table"

    @property
    def ready_words(self) -> str:
        """What lists say of it once it was measured."""
        return f"ready for the {self.place}"

    @property
    def is_in_work(self) -> bool:
        """Whether it is still to be made."""
        return self.state in (CutState.ASKED, CutState.PLANNING)

    @property
    def is_made(self) -> bool:
        """Whether there is a plan, whatever became of it."""
        return self.planned_at is not None

    @property
    def is_planned(self) -> bool:
        """Whether it can be cut."""
        return self.state == CutState.PLANNED

    @property
    def is_open(self) -> bool:
        """Whether something is still to be done about it."""
        return self.state in OPEN

    @property
    def noun(self) -> str:
        """What one of what is cut is called; reads the material."""
        return "slab" if self.is_fill else self.material.counted_in

    @property
    def successor(self) -> CutPlan | None:
        """The plan that took its place, if one did; no query after `for_page()`."""
        return getattr(self, "replaced_by", None)

    @property
    def is_checked(self) -> bool:
        """Whether somebody measured what is to be cut."""
        return self.checked_at is not None


class CutPlanPanelQuerySet(models.QuerySet["CutPlanPanel"]):
    """Panels by the plans that they are in."""

    def standing(self) -> Self:
        """In plans that count."""
        return self.exclude(
            plan__state__in=(CutState.STOPPED, CutState.REPLACED, CutState.REFUSED)
        )

    def standing_of(
        self, material: Material, panels: Iterable[uuid.UUID]
    ) -> list[CutPlanPanel]:
        """Return those of some panels whose parts of a material are in a plan. One query."""
        rows = self.standing().filter(plan__material=material, panel__in=tuple(panels))
        return list(rows.select_related("panel", "plan").defer(*LARGE))

    def taken(self, panels: Iterable[uuid.UUID]) -> set[tuple[uuid.UUID, uuid.UUID]]:
        """Return (panel, material) of what is planned or cut. One query."""
        rows = self.standing().filter(panel__in=tuple(panels)).order_by()
        return set(rows.values_list("panel_id", "plan__material_id"))

    def all_cut(self, panels: Iterable[uuid.UUID]) -> set[tuple[uuid.UUID, uuid.UUID]]:
        """Return (panel, material) of what is cut. One query."""
        rows = self.filter(plan__state=CutState.CUT, panel__in=tuple(panels))
        return set(rows.order_by().values_list("panel_id", "plan__material_id"))


class CutPlanPanel(Identified):
    """A panel whose parts are in a cut plan."""

    plan = models.ForeignKey(
        CutPlan, on_delete=models.CASCADE, related_name="plan_panels"
    )
    panel = models.ForeignKey(Panel, on_delete=models.PROTECT, related_name="+")

    objects = CutPlanPanelQuerySet.as_manager()

    class Meta:
        ordering = ("panel__job__code", "panel__number")
        constraints = (
            models.UniqueConstraint(
                fields=("plan", "panel"), name="%(app_label)s_%(class)s_once"
            ),
        )

    def __str__(self) -> str:
        return str(self.panel)
