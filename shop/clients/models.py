"""Clients, what they asked for, and where their rooms are."""

from __future__ import annotations

import datetime as dt
import re
import unicodedata
import uuid
from typing import Self

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Exists, F, OuterRef, Q, Subquery
from django.urls import reverse

from shared.models import (
    Archivable,
    ArchivableQuerySet,
    Identified,
    LengthField,
    MoneyField,
)


class Tenure(models.TextChoices):
    """Whose walls they are."""

    UNKNOWN = "", "not asked yet"
    OWNER = "owner", "owner"
    TENANT = "tenant", "tenant"


class Setting(models.TextChoices):
    """Who comes in: it decides which fire papers are asked for."""

    UNKNOWN = "", "not asked yet"
    PRIVATE = "private", "private home"
    WORK = "work", "workplace"
    PUBLIC = "public", "open to the public"


class Use(models.TextChoices):
    """What a room is used for."""

    UNKNOWN = "", "not asked yet"
    LIVING = "living", "living room"
    MUSIC = "music", "music room"
    VOICE = "voice", "voice booth"
    OFFICE = "office", "office"
    MEETING = "meeting", "meeting room"
    CAFE = "cafe", "café or restaurant"
    HALL = "hall", "hall"
    TEACHING = "teaching", "teaching room"
    OTHER = "other", "something else"


def folded(text: str) -> str:
    """Text without case and accents, since SQLite folds the case of ASCII alone."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    plain = "".join(c for c in apart if not unicodedata.combining(c) and c != "\0")
    return " ".join(plain.split())


def phone_digits(text: str) -> str:
    """Return the digits of a phone number, or of a part of one; nothing if it is no number."""
    if not re.fullmatch(r"[\d\s+()./-]*", text):
        return ""
    return "".join(c for c in text if c.isdigit())


class ClientQuerySet(ArchivableQuerySet):
    """Clients by any part of what is known of them."""

    def matching(self, words: str) -> Self:
        """Clients in whom every word is found: name, phone, e-mail or any address."""
        found = self
        for word in words.split():
            part = folded(word)
            at_site = Site.objects.filter(
                client=OuterRef("pk"), search_text__contains=part
            )
            known = Q(details__search_text__contains=part) | Q(Exists(at_site))
            if digits := phone_digits(word):
                known |= Q(details__phone_digits__contains=digits)
            found = found.filter(known)
        return found

    def unsurveyed(self) -> Self:
        """Clients of whom no room is known yet."""
        return self.exclude(sites__rooms__isnull=False)

    def shown(self, words: str, *, aside: bool) -> Self:
        """Everybody in whom the words are found; without words who is in use, or aside."""
        if words:
            return self.matching(words)
        return self.archived() if aside else self.live()

    def with_details(self) -> Self:
        """With the personal row, which lists and headings show."""
        return self.select_related("details")

    def with_last_enquiry(self) -> Self:
        """With `asked_on` and `bothers` of the latest enquiry in use, which lists show."""
        latest = Enquiry.objects.live().filter(client=OuterRef("pk"))
        return self.annotate(
            asked_on=Subquery(latest.values("asked_on")[:1]),
            bothers=Subquery(latest.values("bothers")[:1]),
        )


class Client(Identified, Archivable):
    """Somebody a job is done for. What is personal lives in `ClientDetails`."""

    notes = models.TextField(max_length=4000, blank=True)

    objects = ClientQuerySet.as_manager()

    class Meta:
        ordering = ("details__name",)

    def __str__(self) -> str:
        return self.details.display_name

    def get_absolute_url(self) -> str:
        """Return the client's page."""
        return reverse("shop:client", args=(self.pk,))


class ClientDetails(models.Model):
    """The personal fields of a client, apart so that they can be given and erased."""

    client = models.OneToOneField(
        Client, on_delete=models.CASCADE, primary_key=True, related_name="details"
    )
    name = models.CharField(max_length=120)
    company = models.CharField(max_length=120, blank=True)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    phone_digits = models.CharField(max_length=40, blank=True, editable=False)
    address = models.TextField(max_length=400, blank=True)
    search_text = models.TextField(blank=True, editable=False)

    class Meta:
        verbose_name_plural = "client details"
        constraints = (
            models.CheckConstraint(
                condition=~Q(name=""),
                name="%(app_label)s_%(class)s_has_name",
                violation_error_message="Give the client a name, as in “Mara Quill”.",
            ),
        )

    def __str__(self) -> str:
        return self.display_name

    @property
    def display_name(self) -> str:
        """Company and person, or the person alone."""
        return f"{self.company} ({self.name})" if self.company else self.name

    @property
    def phone_link(self) -> str:
        """Return the number as a phone dials it."""
        plus = "+" if self.phone.strip().startswith("+") else ""
        return f"{plus}{self.phone_digits}"

    def index(self) -> None:
        """Fill what is searched from what is shown; call it before each save."""
        self.phone_digits = "".join(c for c in self.phone if c.isdigit())
        self.search_text = folded(
            " ".join((self.name, self.company, self.email, self.address))
        )


class EnquiryQuerySet(ArchivableQuerySet):
    """What clients asked for."""

    def day_wanted(self) -> dt.date | None:
        """Return the day that was asked for last, if one was. One query."""
        dated = self.live().filter(wanted_by__isnull=False).order_by("-asked_on")
        return dated.values_list("wanted_by", flat=True).first()


class Enquiry(Identified, Archivable):
    """What a client asked for, before anybody measured anything."""

    client = models.ForeignKey(
        Client, on_delete=models.PROTECT, related_name="enquiries"
    )
    asked_on = models.DateField()
    bothers = models.TextField(
        "what bothers them", max_length=2000, help_text="In their own words."
    )
    wants_noise_kept_out = models.BooleanField(
        "noise comes through walls, floor or door",
        default=False,
        help_text="Panels do not stop that: say so now.",
    )
    use = models.CharField(max_length=12, choices=Use.choices, blank=True)
    budget_from = MoneyField(null=True, blank=True)
    budget_to = MoneyField(null=True, blank=True)
    wanted_by = models.DateField(null=True, blank=True)
    tenure = models.CharField(max_length=10, choices=Tenure.choices, blank=True)
    setting = models.CharField(max_length=10, choices=Setting.choices, blank=True)
    who_decides = models.CharField(max_length=120, blank=True)
    found_us = models.CharField("how they found the shop", max_length=120, blank=True)
    floor_m2 = models.DecimalField(
        "floor area in m²",
        max_digits=9,
        decimal_places=4,
        null=True,
        blank=True,
        validators=(MinValueValidator(1), MaxValueValidator(5000)),
    )
    panels = models.PositiveSmallIntegerField(
        "panels, roughly", null=True, blank=True, validators=(MaxValueValidator(2000),)
    )
    ballpark_from = MoneyField(null=True, blank=True, editable=False)
    ballpark_to = MoneyField(null=True, blank=True, editable=False)
    ballpark_how = models.CharField(max_length=300, blank=True, editable=False)

    objects = EnquiryQuerySet.as_manager()

    class Meta:
        ordering = ("-asked_on", "-created_at")
        verbose_name_plural = "enquiries"
        constraints = (
            models.CheckConstraint(
                condition=Q(budget_from__isnull=True)
                | Q(budget_to__isnull=True)
                | Q(budget_to__gte=F("budget_from")),
                name="%(app_label)s_%(class)s_budget_in_order",
                violation_error_message="The budget's upper end is below its lower end.",
            ),
            models.CheckConstraint(
                condition=(Q(budget_from__isnull=True) | Q(budget_from__gte=0))
                & (Q(budget_to__isnull=True) | Q(budget_to__gte=0)),
                name="%(app_label)s_%(class)s_budget_not_negative",
                violation_error_message="A budget can't be negative.",
            ),
            models.CheckConstraint(
                condition=Q(
                    use__in=Use.values,
                    tenure__in=Tenure.values,
                    setting__in=Setting.values,
                ),
                name="%(app_label)s_%(class)s_choices_known",
                violation_error_message="Choose one of what is offered.",
            ),
            models.CheckConstraint(
                condition=~Q(bothers=""),
                name="%(app_label)s_%(class)s_says_what_bothers",
                violation_error_message="Write down what bothers them.",
            ),
        )

    def __str__(self) -> str:
        return self.bothers[:60]


class SiteQuerySet(ArchivableQuerySet):
    """Places where rooms are."""

    def offered(self, client: Client, *, also: uuid.UUID | None = None) -> Self:
        """Sites of a client in use, and the one that is chosen already."""
        return self.filter(Q(archived_at__isnull=True) | Q(pk=also), client=client)


class Site(Identified, Archivable):
    """A place where rooms of a client are: its address is asked once."""

    client = models.ForeignKey(Client, on_delete=models.PROTECT, related_name="sites")
    address = models.TextField(max_length=400)
    search_text = models.TextField(blank=True, editable=False)
    access_notes = models.TextField(
        max_length=2000,
        blank=True,
        help_text="Parking, stairs, lift, the narrowest door, whom to ring.",
    )
    year_built = models.PositiveSmallIntegerField(
        null=True,
        blank=True,
        validators=(MinValueValidator(1000), MaxValueValidator(2200)),
        help_text="Unknown counts as old: old paint and ceilings need a test first.",
    )
    tenure = models.CharField(max_length=10, choices=Tenure.choices, blank=True)
    setting = models.CharField(max_length=10, choices=Setting.choices, blank=True)
    distance_km = models.DecimalField(
        "distance from the shop in km",
        max_digits=8,
        decimal_places=4,
        null=True,
        blank=True,
        validators=(MinValueValidator(0), MaxValueValidator(2000)),
    )
    travel_minutes = models.PositiveSmallIntegerField(
        "travel time one way, minutes",
        null=True,
        blank=True,
        validators=(MaxValueValidator(1440),),
    )
    parking = models.CharField(max_length=200, blank=True)
    stairs = models.CharField(
        max_length=200, blank=True, help_text="How many, how steep, any tight turn."
    )
    lift = models.CharField(
        max_length=200, blank=True, help_text="Its inside size, and who has the key."
    )
    narrowest_door_ticks = LengthField(
        "narrowest door on the way in",
        null=True,
        blank=True,
        help_text="Every panel has to pass it.",
    )
    narrowest_door_text = models.CharField(max_length=40, blank=True)
    floor_protection = models.CharField(max_length=200, blank=True)
    working_hours = models.CharField(max_length=200, blank=True)
    power = models.CharField(max_length=200, blank=True)
    who_is_there = models.CharField(
        "who is there on the day", max_length=200, blank=True
    )
    purchase_order = models.CharField("purchase order", max_length=80, blank=True)
    insurance_papers = models.CharField(
        "insurance papers asked for", max_length=200, blank=True
    )
    induction = models.CharField("induction on site", max_length=200, blank=True)

    objects = SiteQuerySet.as_manager()

    class Meta:
        ordering = ("created_at",)
        constraints = (
            models.CheckConstraint(
                condition=Q(narrowest_door_ticks__isnull=True)
                | Q(narrowest_door_ticks__gt=0),
                name="%(app_label)s_%(class)s_door_positive",
                violation_error_message="A door is wider than nothing.",
            ),
            models.CheckConstraint(
                condition=~Q(address=""),
                name="%(app_label)s_%(class)s_has_address",
                violation_error_message="Type the address of the rooms.",
            ),
            models.CheckConstraint(
                condition=Q(tenure__in=Tenure.values, setting__in=Setting.values),
                name="%(app_label)s_%(class)s_choices_known",
                violation_error_message="Choose one of what is offered.",
            ),
            models.CheckConstraint(
                condition=Q(distance_km__isnull=True) | Q(distance_km__gte=0),
                name="%(app_label)s_%(class)s_distance_not_negative",
                violation_error_message="A distance can't be negative.",
            ),
        )

    def __str__(self) -> str:
        return self.address.splitlines()[0] if self.address else "site"

    def index(self) -> None:
        """Fill what is searched from what is shown; call it before each save."""
        self.search_text = folded(self.address)

    def rooms_in_use(self) -> list[str]:
        """Name the rooms here that nobody has put aside. One query."""
        return [str(room) for room in self.rooms.live()]


class ClientNote(Identified):
    """Something that was said or agreed, with who wrote it down."""

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="said")
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )
    text = models.TextField(max_length=2000)

    class Meta:
        ordering = ("-at",)
        constraints = (
            models.CheckConstraint(
                condition=~Q(text=""),
                name="%(app_label)s_%(class)s_says_something",
                violation_error_message="Write down what was said.",
            ),
        )

    def __str__(self) -> str:
        return self.text[:60]
