"""Rooms of clients."""

from __future__ import annotations

from typing import Self

from django.db import models
from django.db.models import Exists, Max, OuterRef, Q, Subquery
from django.urls import reverse

from shared.models import Archivable, ArchivableQuerySet, Identified
from shop.clients.models import Client, ClientDetails, Site, Use, folded


class RoomQuerySet(ArchivableQuerySet):
    """Rooms by client and by words."""

    def matching(self, words: str) -> Self:
        """Rooms in whose name, address or client every word is found."""
        found = self
        for word in words.split():
            part = folded(word)
            theirs = ClientDetails.objects.filter(
                client=OuterRef("site__client"), search_text__contains=part
            )
            found = found.filter(
                Q(search_text__contains=part)
                | Q(name__icontains=word)  # rows that nobody indexed
                | Q(site__search_text__contains=part)
                | Q(Exists(theirs))
            )
        return found

    def of_client(self, client: Client) -> Self:
        """Rooms at any site of a client."""
        return self.filter(site__client=client)

    def with_site(self) -> Self:
        """With site and client, which every heading shows."""
        return self.select_related("site__client__details")

    def with_latest_survey(self) -> Self:
        """With `revision` and `measured_on` of what was measured last, by name."""
        found = self.annotate(
            revision=Max("surveys__revision"), measured_on=Max("surveys__measured_on")
        )
        return found.order_by("name", "created_at")  # grouping drops the usual order

    def to_walk(self) -> Self:
        """Rooms in use, the newest first, each `with_site()` and its `latest_survey`."""
        from shop.surveys.models.surveys import Survey  # they point at rooms

        latest = Survey.objects.filter(room=OuterRef("pk")).newest_first()
        found = self.live().with_site().order_by("-created_at")
        return found.annotate(latest_survey=Subquery(latest.values("pk")[:1]))


class Room(Identified, Archivable):
    """One room of a client, surveyed once or more often."""

    site = models.ForeignKey(Site, on_delete=models.PROTECT, related_name="rooms")
    name = models.CharField(max_length=80)
    use = models.CharField(max_length=12, choices=Use.choices, blank=True)
    storey = models.CharField(
        max_length=40, blank=True, help_text="As in: basement, ground floor, 2nd floor."
    )
    sleeping_or_basement = models.BooleanField(
        "a bedroom or a basement room",
        default=False,
        help_text="Its window may be an escape window that must not be blocked.",
    )
    notes = models.TextField(max_length=4000, blank=True)
    search_text = models.TextField(blank=True, editable=False)

    objects = RoomQuerySet.as_manager()

    class Meta:
        ordering = ("name", "created_at")
        constraints = (
            models.CheckConstraint(
                condition=~Q(name=""),
                name="%(app_label)s_%(class)s_has_name",
                violation_error_message="Give the room a name, as in “Front room”.",
            ),
            models.CheckConstraint(
                condition=Q(use__in=Use.values),
                name="%(app_label)s_%(class)s_use_known",
                violation_error_message="Choose what the room is used for.",
            ),
        )

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        """Return the room's page."""
        return reverse("shop:room", args=(self.pk,))

    def index(self) -> None:
        """Fill what is searched from what is shown; call it before each save."""
        self.search_text = folded(self.name)
