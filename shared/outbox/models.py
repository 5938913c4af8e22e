"""Mail: stored first, sent after, each attempt on record."""

from __future__ import annotations

from typing import TYPE_CHECKING, Self

from django.conf import settings
from django.db import models
from django.db.models import Q

from shared.files.models import StoredFile
from shared.records import AppendOnlyQuerySet, Identified

if TYPE_CHECKING:
    import datetime as dt
    import uuid


class MessageState(models.TextChoices):
    """Where a message stands."""

    WAITING = "waiting", "waiting to be sent"
    SENDING = "sending", "being sent"
    SENT = "sent", "handed to the mail server"
    FAILED = "failed", "failed"
    WITHDRAWN = "withdrawn", "withdrawn before it went"
    UNKNOWN = "unknown", "unknown: the mail server may or may not have taken it"


class MessageQuerySet(models.QuerySet["Message"]):
    """Messages by what is to be done with them."""

    def waiting(self) -> Self:
        """Messages that still have to go."""
        return self.filter(state=MessageState.WAITING)

    def due(self, at: dt.datetime) -> Self:
        """Return waiting messages whose next try has come."""
        return self.waiting().filter(next_try_at__lte=at).order_by("created_at")

    def held_since(self, before: dt.datetime) -> Self:
        """Messages that somebody began to send before a time."""
        return self.filter(state=MessageState.SENDING, claimed_at__lt=before)

    def claim(self, message_id: uuid.UUID, *, at: dt.datetime) -> bool:
        """Take a waiting message for sending, unless somebody was quicker."""
        taken = self.waiting().filter(pk=message_id)
        return bool(taken.update(state=MessageState.SENDING, claimed_at=at))

    def about(self, subject: models.Model) -> Self:
        """Messages about one record, with their attempts."""
        return self.filter(
            about_kind=subject._meta.model_name, about_id=subject.pk
        ).prefetch_related("attempts")

    def in_trouble(self) -> Self:
        """Messages that a person has to look at."""
        return self.filter(state__in=(MessageState.FAILED, MessageState.UNKNOWN))


class Message(Identified):
    """One e-mail, as it will be or was sent."""

    message_id = models.CharField(max_length=200, unique=True)
    to = models.EmailField()
    reply_to = models.EmailField(blank=True)
    subject = models.CharField(max_length=200)
    body = models.TextField()
    attachment = models.ForeignKey(
        StoredFile, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    about_kind = models.CharField(max_length=40, blank=True)
    about_id = models.UUIDField(null=True, blank=True)
    state = models.CharField(
        max_length=10, choices=MessageState.choices, default=MessageState.WAITING
    )
    next_try_at = models.DateTimeField()
    claimed_at = models.DateTimeField(null=True, blank=True)
    sent_at = models.DateTimeField(null=True, blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
    )

    objects = MessageQuerySet.as_manager()

    class Meta:
        ordering = ("-created_at",)
        constraints = (
            models.CheckConstraint(
                condition=Q(state__in=MessageState.values),
                name="%(app_label)s_%(class)s_state_known",
                violation_error_message="The state of the message is not known.",
            ),
            models.CheckConstraint(
                condition=~Q(state=MessageState.SENT) | Q(sent_at__isnull=False),
                name="%(app_label)s_%(class)s_sent_has_time",
                violation_error_message="A sent message says when it was sent.",
            ),
        )
        indexes = (
            # the worker's and the Next up page's look-ups
            models.Index(fields=("state", "created_at"), name="message_state"),
            # a quote's page lists its messages
            models.Index(fields=("about_kind", "about_id"), name="message_about"),
        )

    def __str__(self) -> str:
        return self.subject


class DeliveryAttempt(Identified):
    """One try at handing a message over."""

    message = models.ForeignKey(
        Message, on_delete=models.PROTECT, related_name="attempts"
    )
    at = models.DateTimeField()
    outcome = models.CharField(max_length=10, choices=MessageState.choices)
    reason = models.CharField(max_length=300, blank=True)

    objects = AppendOnlyQuerySet.as_manager()

    class Meta:
        ordering = ("at",)

    def __str__(self) -> str:
        return self.outcome
