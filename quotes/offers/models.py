"""Quotes: one working draft each, and what was sent, frozen."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Self

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q
from django.urls import reverse

from quotes.pricing.models import PERCENT, LineKind
from shared.models import AppendOnlyQuerySet, Identified, MoneyField, StoredFile
from shop.clients.models import Client, folded
from shop.surveys.models import Room


class QuoteState(models.TextChoices):
    """Where a quote stands."""

    DRAFT = "draft", "draft"
    SENT = "sent", "sent"
    ACCEPTED = "accepted", "accepted"
    DECLINED = "declined", "declined"
    LAPSED = "lapsed", "lapsed"
    VOID = "void", "void"


OPEN_STATES = (QuoteState.DRAFT, QuoteState.SENT)
"""Somebody still has to do something."""

CHANGEABLE_STATES = (
    QuoteState.DRAFT,
    QuoteState.SENT,
    QuoteState.DECLINED,
    QuoteState.LAPSED,
)
"""A change makes the next revision; an accepted or void quote stays as it is."""


class QuoteQuerySet(models.QuerySet["Quote"]):
    """Quotes by state and by words."""

    def open(self) -> Self:
        """Drafts, and quotes that are out."""
        return self.filter(state__in=OPEN_STATES)

    def in_state(self, state: str) -> Self:
        """Quotes in one state."""
        return self.filter(state=state)

    def out_past(self, day: dt.date) -> Self:
        """Sent quotes whose last valid day is before a day."""
        return self.filter(state=QuoteState.SENT, valid_until__lt=day)

    def of_client(self, client: Client) -> Self:
        """Quotes of a client."""
        return self.filter(client=client)

    def matching(self, words: str) -> Self:
        """Quotes in whose number or client every word is found."""
        found = self
        for word in words.split():
            found = found.filter(
                Q(number__icontains=word)
                | Q(client__details__search_text__contains=folded(word))
            )
        return found

    def by_urgency(self) -> Self:
        """Quotes that are out, the first to end first; then drafts."""
        is_draft = models.Case(models.When(state=QuoteState.DRAFT, then=1), default=0)
        ends = models.F("valid_until").asc(nulls_last=True)
        return self.order_by(is_draft, ends, "created_at")

    def with_client(self) -> Self:
        """With the client, which lists show."""
        return self.select_related("client__details")

    def with_last_total(self) -> Self:
        """With what the revision that was sent last came to, and in which currency."""
        last = QuoteRevision.objects.filter(quote=models.OuterRef("pk")).order_by(
            "-sent_at"
        )
        return self.annotate(
            last_total=models.Subquery(last.values("total")[:1]),
            last_currency=models.Subquery(last.values("currency")[:1]),
        )


class Quote(Identified):
    """One quote: its working draft, and what became of it."""

    number = models.CharField(max_length=20, unique=True)
    client = models.ForeignKey(Client, on_delete=models.PROTECT, related_name="+")
    state = models.CharField(
        max_length=10, choices=QuoteState.choices, default=QuoteState.DRAFT
    )
    rooms = models.ManyToManyField(Room, through="QuoteRoom", related_name="+")
    scope = models.TextField(
        max_length=4000, blank=True, help_text="What will be done, in plain words."
    )
    discount_percent = models.DecimalField(
        "discount, %",
        max_digits=6,
        decimal_places=3,
        default=Decimal(0),
        validators=PERCENT,
    )
    valid_days = models.PositiveSmallIntegerField(
        default=30, validators=(MinValueValidator(1), MaxValueValidator(366))
    )
    valid_until = models.DateField(
        null=True, blank=True, help_text="The last local day of the sent revision."
    )
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )
    version = models.PositiveIntegerField(default=0, editable=False)

    objects = QuoteQuerySet.as_manager()

    class Meta:
        ordering = ("-created_at",)
        constraints = (
            models.CheckConstraint(
                condition=Q(state__in=QuoteState.values),
                name="%(app_label)s_%(class)s_state_known",
                violation_error_message="The state of the quote is not known.",
            ),
            models.CheckConstraint(
                condition=Q(discount_percent__gte=0, discount_percent__lte=100),
                name="%(app_label)s_%(class)s_discount_in_range",
                violation_error_message="A discount is between 0 and 100 %%.",
            ),
            models.CheckConstraint(
                condition=~Q(state=QuoteState.SENT) | Q(valid_until__isnull=False),
                name="%(app_label)s_%(class)s_sent_has_end",
                violation_error_message="A sent quote says until when it is valid.",
            ),
        )

    def __str__(self) -> str:
        return self.number

    def get_absolute_url(self) -> str:
        """Return the quote's page."""
        return reverse("quotes:quote", args=(self.pk,))

    def rooms_in_order(self) -> list[Room]:
        """Return the rooms as the quote lists them. One query."""
        rows = self.quote_rooms.select_related("room__site__client__details")
        return [row.room for row in rows]

    def is_out_with(self, file: StoredFile | None) -> bool:
        """Whether this file is what the client is to answer. One query."""
        last = self.revisions.unanswered().last()
        return last is not None and file is not None and last.pdf_id == file.pk

    @property
    def is_changeable(self) -> bool:
        """Whether the draft may still be worked on."""
        return self.state in CHANGEABLE_STATES


class QuoteRoom(Identified):
    """A room that a quote is about: its planned panels are the quote's lines."""

    quote = models.ForeignKey(
        Quote, on_delete=models.CASCADE, related_name="quote_rooms"
    )
    room = models.ForeignKey(Room, on_delete=models.PROTECT, related_name="+")
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ("position", "created_at")
        constraints = (
            models.UniqueConstraint(
                fields=("quote", "room"),
                name="%(app_label)s_%(class)s_once",
                violation_error_message="The room is already in this quote.",
            ),
        )

    def __str__(self) -> str:
        return str(self.room)


class FreeLineQuerySet(models.QuerySet["FreeLine"]):
    """Free lines that count, and those taken out."""

    def live(self) -> Self:
        """Lines that are part of the draft."""
        return self.filter(dropped_at__isnull=True)


class FreeLine(Identified):
    """A line that no panel makes: lighting moved, old boards taken down."""

    quote = models.ForeignKey(
        Quote, on_delete=models.CASCADE, related_name="free_lines"
    )
    kind = models.CharField(
        max_length=10, choices=LineKind.choices, default=LineKind.OTHER
    )
    text = models.CharField(max_length=200)
    quantity = models.DecimalField(
        max_digits=9,
        decimal_places=3,
        default=Decimal(1),
        validators=(MinValueValidator(Decimal("0.001")),),
    )
    unit_price = MoneyField(validators=(MinValueValidator(Decimal(0)),))
    position = models.PositiveSmallIntegerField(default=0)
    dropped_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = FreeLineQuerySet.as_manager()

    class Meta:
        ordering = ("position", "created_at")
        constraints = (
            models.CheckConstraint(
                condition=Q(quantity__gt=0, unit_price__gte=0) & ~Q(text=""),
                name="%(app_label)s_%(class)s_sensible",
                violation_error_message="A line needs words, a quantity above nothing"
                " and a price that isn't negative.",
            ),
        )

    def __str__(self) -> str:
        return self.text


class QuoteRevisionQuerySet(AppendOnlyQuerySet):
    """Sent revisions by what became of them."""

    def unanswered(self) -> Self:
        """Revisions that nothing became of, or whose yes was taken back; the last last."""
        last = Answer.objects.filter(revision=models.OuterRef("pk")).order_by("-number")
        found = self.annotate(stands=models.Subquery(last.values("kind")[:1]))
        is_out = Q(stands__isnull=True) | Q(stands=AnswerKind.TAKEN_BACK)
        return found.filter(is_out).order_by("sent_at")

    def with_answers(self) -> Self:
        """With what became of each, without the frozen document."""
        return (
            self.select_related("sent_by", "pdf")
            .prefetch_related(models.Prefetch("answers", Answer.objects.with_by()))
            .defer("snapshot")
            .order_by("sent_at")
        )


class QuoteRevision(Identified):
    """A quote as it was sent: nothing in it ever changes."""

    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="revisions")
    letter = models.CharField(max_length=2)
    snapshot = models.JSONField()
    schema = models.PositiveSmallIntegerField()
    draft_sha256 = models.CharField(max_length=64)
    pdf = models.ForeignKey(StoredFile, on_delete=models.PROTECT, related_name="+")
    total = MoneyField(help_text="With tax, for lists.")
    currency = models.CharField(max_length=3)
    valid_until = models.DateField()
    sent_at = models.DateTimeField()
    sent_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = QuoteRevisionQuerySet.as_manager()

    class Meta:
        ordering = ("sent_at",)
        constraints = (
            models.UniqueConstraint(
                fields=("quote", "letter"),
                name="%(app_label)s_%(class)s_letter_once",
                violation_error_message="That revision was already sent.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.quote.number} {self.letter}"

    @property
    def reference(self) -> str:
        """Number and letter, as printed."""
        return f"{self.quote.number}{self.letter}"

    @property
    def answer(self) -> Answer | None:
        """What became of it, while that stands. No query after `with_answers()`."""
        answers: list[Answer] = list(self.answers.all())
        if not answers or answers[-1].kind == AnswerKind.TAKEN_BACK:
            return None
        return answers[-1]


class AnswerKind(models.TextChoices):
    """What became of a sent revision."""

    ACCEPTED = "accepted", "accepted"
    DECLINED = "declined", "declined"
    LAPSED = "lapsed", "lapsed"
    SUPERSEDED = "superseded", "replaced by a later revision"
    VOID = "void", "void"
    TAKEN_BACK = "taken_back", "yes taken back"


class AnswerQuerySet(AppendOnlyQuerySet):
    """What became of revisions, in order."""

    def with_by(self) -> Self:
        """With who wrote it down."""
        return self.select_related("by")


class Answer(Identified):
    """What became of a revision, and who wrote it down: added, never changed.

    The last one counts; a yes that was taken back leaves the revision out again.
    """

    revision = models.ForeignKey(
        QuoteRevision, on_delete=models.PROTECT, related_name="answers"
    )
    number = models.PositiveSmallIntegerField(
        default=1, help_text="1 for the first answer to this revision, and so on."
    )
    kind = models.CharField(max_length=12, choices=AnswerKind.choices)
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
    )
    note = models.CharField(
        max_length=300, blank=True, help_text="How the client said so, or why not."
    )

    objects = AnswerQuerySet.as_manager()

    class Meta:
        ordering = ("number",)
        constraints = (
            models.UniqueConstraint(
                fields=("revision", "number"),
                name="%(app_label)s_%(class)s_number_once",
                violation_error_message="Somebody wrote an answer down meanwhile.",
            ),
            models.CheckConstraint(
                condition=Q(kind__in=AnswerKind.values),
                name="%(app_label)s_%(class)s_kind_known",
                violation_error_message="The answer is not one of those known.",
            ),
        )

    def __str__(self) -> str:
        return self.kind
