"""Jobs: the work that accepted quotes opened."""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from typing import Self

from django.db import models
from django.db.models import Q
from django.urls import reverse

from jobs.board.models.stages import Stage
from quotes.offers.models import Quote, QuoteRevision
from shared.models import Identified
from shop.clients.models import Client


class JobState(models.TextChoices):
    """Whether a job is being worked on."""

    OPEN = "open", "open"
    DONE = "done", "done"
    TAKEN_BACK = "back", "taken back"


class JobQuerySet(models.QuerySet["Job"]):
    """Jobs by state."""

    def open(self) -> Self:
        """Jobs that are being worked on, the oldest first."""
        return self.filter(state=JobState.OPEN).order_by("opened_at")

    def standing(self) -> Self:
        """Jobs whose yes stands."""
        return self.exclude(state=JobState.TAKEN_BACK)

    def by_ids(self, ids: Iterable[uuid.UUID]) -> Self:
        """Return jobs of these ids, in the order in which they are locked."""
        return self.filter(pk__in=list(ids)).order_by("pk")

    def of_client(self, client: Client) -> Self:
        """Jobs for a client."""
        return self.filter(client=client)

    def of_revision(self, revision: QuoteRevision) -> Self:
        """Return the jobs that yeses to a revision opened; one stands at most."""
        return self.filter(revision=revision)

    def of_quote(self, quote: Quote) -> Self:
        """Return the job that a quote's yes opened."""
        return self.filter(revision__quote=quote)

    def with_client(self) -> Self:
        """With the client, which headings show."""
        return self.select_related("client__details")

    def with_quote(self) -> Self:
        """With the quote that it came from; without what was frozen, which is large."""
        return self.select_related("revision__quote").defer("revision__snapshot")

    def matching(self, words: str) -> Self:
        """Jobs in whose code, quote or client every word is found."""
        found = self
        for word in words.split():
            found = found.filter(
                Q(code__icontains=word)
                | Q(revision__quote__number__icontains=word)
                | Q(client__details__name__icontains=word)
                | Q(client__details__company__icontains=word)
            )
        return found

    def open_first(self) -> Self:
        """Open jobs, then the rest; the newest first."""
        is_open = models.Case(models.When(state=JobState.OPEN, then=0), default=1)
        return self.order_by(is_open, "-opened_at")

    def without_site_day(self) -> Self:
        """Jobs for which no day is planned, nor was."""
        return self.filter(site_days__isnull=True)

    def with_counts(self) -> Self:
        """With the number of panels, and of those installed."""
        return self.annotate(
            panel_count=models.Count("panels"),
            installed_count=models.Count(
                "panels", filter=Q(panels__stage=Stage.INSTALLED)
            ),
        )


class Job(Identified):
    """The work that an accepted quote opened, built from its snapshot alone."""

    code = models.CharField(max_length=8, unique=True)
    revision = models.ForeignKey(
        QuoteRevision, on_delete=models.PROTECT, related_name="+"
    )
    client = models.ForeignKey(Client, on_delete=models.PROTECT, related_name="+")
    state = models.CharField(
        max_length=8, choices=JobState.choices, default=JobState.OPEN
    )
    opened_at = models.DateTimeField()
    wanted_by = models.DateField(null=True, blank=True)

    objects = JobQuerySet.as_manager()

    class Meta:
        ordering = ("opened_at",)
        constraints = (
            models.CheckConstraint(
                condition=Q(state__in=JobState.values),
                name="%(app_label)s_%(class)s_state_known",
                violation_error_message="The state of the job is not known.",
            ),
            # a yes that was taken back may be given again, and opens another job
            models.UniqueConstraint(
                fields=("revision",),
                condition=~Q(state=JobState.TAKEN_BACK),
                name="%(app_label)s_%(class)s_revision_once",
                violation_error_message="This quote has a job already.",
            ),
        )

    def __str__(self) -> str:
        return self.code

    @property
    def is_open(self) -> bool:
        """Whether it is being worked on."""
        return self.state == JobState.OPEN

    def get_absolute_url(self) -> str:
        """Return the job's page."""
        return reverse("jobs:job", args=(self.pk,))

    @property
    def is_taken_back(self) -> bool:
        """Whether the yes that opened it was taken back."""
        return self.state == JobState.TAKEN_BACK
