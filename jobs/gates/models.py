"""Gates: what must be in hand before a job's material is bought or cut."""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import Exists, OuterRef, Q, Subquery
from django.urls import reverse

from jobs.board.models import Job, JobState, Panel
from jobs.gates.engine import BUYING, Act, Wait, buying_of, next_act, why_held
from quotes.specs.models import PanelKind
from shared.dates import show_day
from shared.models import AppendOnlyQuerySet, Identified
from shop.catalogue.models import Material


class GateKind(models.TextChoices):
    """What is waited for."""

    DEPOSIT = Wait.DEPOSIT.value, "deposit"
    FABRIC = Wait.FABRIC.value, "fabric signed for"
    MEASURE = Wait.MEASURE.value, "second measure"
    LANDLORD = Wait.LANDLORD.value, "landlord's consent"
    FIRE = Wait.FIRE.value, "fire papers"


class GateState(models.TextChoices):
    """Whether a gate stands open."""

    SHUT = "shut", "waiting"
    PASSED = "passed", "in hand"
    OVERRIDDEN = "over", "gone past, on somebody's word"
    DROPPED = "dropped", "not needed"


OPEN_STATES = (GateState.PASSED, GateState.OVERRIDDEN, GateState.DROPPED)
"""States in which a gate holds nothing up."""


class GateQuerySet(models.QuerySet["Gate"]):
    """Gates by job and state."""

    def shut(self) -> Self:
        """Gates that hold something up."""
        return self.filter(state=GateState.SHUT)

    def of_job(self, job: Job) -> Self:
        """Gates of one job."""
        return self.filter(job=job)

    def of_jobs(self, ids: Iterable[uuid.UUID]) -> Self:
        """Gates of several jobs."""
        return self.filter(job__in=tuple(ids))

    def of_open_jobs(self) -> Self:
        """Gates of jobs that are being worked on."""
        return self.filter(job__state=JobState.OPEN)

    def with_job(self) -> Self:
        """With job, client, material and person, which lists show."""
        return self.select_related("job__client__details", "material__supplier", "by")

    def with_said(self) -> Self:
        """With `reason`, why it was gone past, and `unmeasured`, whether an opening is left.

        Both ride in the same query.
        """
        newest = GateEntry.objects.filter(gate=OuterRef("pk"))
        left = Panel.objects.filter(
            job=OuterRef("job"), kind=PanelKind.REVEAL, measured_at__isnull=True
        )
        return self.annotate(
            reason=Subquery(newest.values("note")[:1]), unmeasured=Exists(left)
        )

    def with_history(self) -> Self:
        """With what was said of each, the newest first. Two queries more at most."""
        said = GateEntry.objects.select_related("by")
        return self.prefetch_related(models.Prefetch("entries", said))

    def shut_or_gone_past(self) -> Self:
        """Gates whose paper or money is not in hand."""
        return self.filter(state__in=(GateState.SHUT, GateState.OVERRIDDEN))

    def signed(self) -> Self:
        """Gates of fabrics of which a dye lot is on record."""
        counts = (GateState.PASSED, GateState.OVERRIDDEN)
        open_now = self.filter(kind=GateKind.FABRIC, state__in=counts)
        return open_now.exclude(dye_lot="").exclude(material=None)

    def keeping_yes(self) -> Self:
        """Deposits that are in hand."""
        return self.filter(kind=GateKind.DEPOSIT, state=GateState.PASSED)

    def of_kind(self, kind: str) -> Self:
        """Gates of one kind, or with no kind all."""
        return self.filter(kind=kind) if kind else self

    def matching(self, words: str) -> Self:
        """Gates in whose job, client or material every word is found."""
        found = self
        for word in words.split():
            found = found.filter(
                Q(job__code__icontains=word)
                | Q(job__client__details__name__icontains=word)
                | Q(job__client__details__company__icontains=word)
                | Q(material__name__icontains=word)
                | Q(code__icontains=word)
            )
        return found

    def in_asking_order(self) -> Self:
        """By kind, in the order in which a shop asks; within it, the oldest job first."""
        kinds = [
            models.When(kind=kind, then=place)
            for place, kind in enumerate(GateKind.values)
        ]
        place = models.Case(*kinds, output_field=models.IntegerField())
        return self.order_by(place, "job__opened_at", "material__name", "pk")


class Gate(Identified):
    """One thing that a job waits for, with what was seen when it came in."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="gates")
    kind = models.CharField(max_length=8, choices=GateKind.choices)
    material = models.ForeignKey(
        Material,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
        help_text="The fabric that is signed for, or whose papers are asked for.",
    )
    state = models.CharField(
        max_length=7, choices=GateState.choices, default=GateState.SHUT
    )
    # what was signed for or seen; of a fabric: its code, colour and dye lot
    code = models.CharField(max_length=60, blank=True)
    colour = models.CharField(max_length=60, blank=True)
    dye_lot = models.CharField(max_length=40, blank=True)
    reference = models.CharField(
        max_length=200, blank=True, help_text="Which paper or payment, and where it is."
    )
    since = models.DateTimeField(null=True, blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
    )

    objects = GateQuerySet.as_manager()

    class Meta:
        ordering = ("job", "kind", "id")
        constraints = (
            models.UniqueConstraint(
                fields=("job", "kind", "material"),
                name="%(app_label)s_%(class)s_material_once",
                violation_error_message="The job waits for this already.",
            ),
            # two rows without a material differ to the database
            models.UniqueConstraint(
                fields=("job", "kind"),
                condition=Q(material__isnull=True),
                name="%(app_label)s_%(class)s_once",
                violation_error_message="The job waits for this already.",
            ),
            models.CheckConstraint(
                condition=Q(kind__in=GateKind.values, state__in=GateState.values),
                name="%(app_label)s_%(class)s_choices_known",
                violation_error_message="Say what is waited for, and whether it came.",
            ),
            models.CheckConstraint(
                condition=~Q(kind=GateKind.FABRIC, state=GateState.PASSED)
                | (~Q(code="") & ~Q(colour="")),
                name="%(app_label)s_%(class)s_fabric_named",
                violation_error_message="A fabric is signed for by its code and colour.",
            ),
            models.CheckConstraint(
                condition=Q(state=GateState.SHUT) | Q(since__isnull=False),
                name="%(app_label)s_%(class)s_open_since",
                violation_error_message="An open gate says since when.",
            ),
        )
        indexes = (
            # next up and buying look for what is shut
            models.Index(fields=("state", "job"), name="gate_state"),
        )

    def __str__(self) -> str:
        return self.title

    def get_absolute_url(self) -> str:
        """Return the place of the gate on its job's page."""
        return f"{reverse('jobs:job', args=(self.job_id,))}#gate-{self.pk}"

    @property
    def title(self) -> str:
        """What is waited for, of which material; one query unless `with_job()`."""
        kind = str(self.get_kind_display())
        kind = kind[:1].upper() + kind[1:]
        what = self.material.name if self.material else self.code
        if self.kind == GateKind.FABRIC:
            return f"Fabric signed for: {what}" if what else kind
        return f"{kind} of {what}" if what and self.kind == GateKind.FIRE else kind

    @property
    def is_shut(self) -> bool:
        """Whether it holds something up."""
        return self.state == GateState.SHUT

    @property
    def is_gone_past(self) -> bool:
        """Whether it is open on somebody's word alone."""
        return self.state == GateState.OVERRIDDEN

    @property
    def past_words(self) -> str:
        """Who went past it, when and why; nothing for others. For rows `with_said()`."""
        if not self.is_gone_past or self.since is None:
            return ""
        reason: str = self.reason  # type: ignore[attr-defined]
        words = f"gone past by {self.by} on {show_day(self.since)}"
        return f"{words}: {reason.rstrip('.')}"

    @property
    def next_act(self) -> str:
        """What to do about it. For rows `with_job()` and `with_said()`."""
        left: bool = self.unmeasured  # type: ignore[attr-defined]
        return next_act(self.kind, left=left, on_file=bool(self.papers_on_file))

    @property
    def papers_on_file(self) -> str:
        """What the stores say by now of the fire papers that are waited for."""
        if self.kind != GateKind.FIRE or self.material is None:
            return ""
        found = self.material
        return found.fire_papers or (
            found.fire_class and found.get_fire_class_display()
        )

    @property
    def money_aside(self) -> bool:
        """Whether what is written of it may name an amount."""
        return self.kind == GateKind.DEPOSIT

    def why_held(self, act: Act) -> str:
        """Return why it holds an act up, in one sentence; nothing where it does not."""
        return why_held(self.kind, act)

    def concerns(
        self,
        act: Act,
        *,
        material: uuid.UUID | None = None,
        panel: Panel | None = None,
    ) -> bool:
        """Whether it would hold an act up while it is shut, of a material and of a panel.

        For rows `with_job()` and `with_said()`.
        """
        if not why_held(self.kind, act):
            return False
        if self.material_id and material and self.material_id != material:
            return False
        if self.kind == GateKind.FIRE and self.material and act in BUYING:
            return act == buying_of(self.material.kind)
        if self.kind == GateKind.MEASURE:
            return self._measures(panel)
        return True

    def _measures(self, panel: Panel | None) -> bool:
        """Whether a panel, or any of the job, fills an opening that is not measured."""
        if panel is None:
            return bool(self.unmeasured)  # type: ignore[attr-defined]
        return panel.kind == PanelKind.REVEAL and panel.measured_at is None


class GateEntryQuerySet(AppendOnlyQuerySet):
    """Entries with what a page needs of them."""

    def with_gate(self) -> Self:
        """With the gate, its job and its material."""
        return self.select_related("gate__job", "gate__material")


class GateEntry(Identified):
    """What was said of a gate: it came, it was gone past and why, it is waited for again."""

    gate = models.ForeignKey(Gate, on_delete=models.CASCADE, related_name="entries")
    was = models.CharField(max_length=7, choices=GateState.choices)
    now = models.CharField(max_length=7, choices=GateState.choices)
    kept = models.JSONField(
        default=dict, help_text="Code, colour, dye lot, reference before: for an undo."
    )
    note = models.CharField(max_length=300, blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = GateEntryQuerySet.as_manager()

    class Meta:
        ordering = ("-at", "-created_at")
        constraints = (
            models.CheckConstraint(
                condition=~Q(now=GateState.OVERRIDDEN) | ~Q(note=""),
                name="%(app_label)s_%(class)s_override_has_reason",
                violation_error_message="Say why it can't wait.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.gate}: {self.now}"
