"""Forms for clients, enquiries, sites and notes."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from itertools import chain
from typing import Any

from django import forms
from django.forms.boundfield import BoundField

from shared.days import DayFormField
from shared.forms import (
    CountField,
    LengthFormField,
    MoneyFormField,
    PlainCharField,
    PlainForm,
    PlainModelForm,
)
from shared.length import TICKS_PER_M
from shared.quantities import AREA, DISTANCE, QuantityFormField
from shop.clients.models import ClientDetails, Enquiry, Site

WAY_IN = ("parking", "stairs", "lift")
DAY_THERE = ("floor_protection", "working_hours", "power", "who_is_there")
PAPERS = ("purchase_order", "insurance_papers", "induction")
"""What is asked of a site beside its address, in three parts."""


class DetailsForm(PlainModelForm):
    """Who the client is and how to reach them."""

    address = PlainCharField(max_length=400, multiline=True, required=False)

    class Meta:
        model = ClientDetails
        fields = ("name", "company", "phone", "email", "address")
        labels = {"email": "E-mail"}
        error_messages = {"name": {"required": "Give the client a name."}}


class ChangeDetailsForm(DetailsForm):
    """The details, and what to keep in mind about the client."""

    notes = PlainCharField(
        label="Keep in mind",
        max_length=4000,
        multiline=True,
        required=False,
        help_text="Shown at the top of the client’s page.",
    )


class EnquiryForm(PlainModelForm):
    """What a client asks for, and the few numbers of a ballpark."""

    asked_on = DayFormField(label="Asked on")
    bothers = PlainCharField(
        label="What bothers them",
        max_length=2000,
        multiline=True,
        help_text="In their own words.",
        error_messages={"required": "Write down what bothers them."},
    )
    wanted_by = DayFormField(label="Wanted by", required=False)
    budget_from = MoneyFormField(label="Budget, from", required=False)
    budget_to = MoneyFormField(label="Budget, to", required=False)
    floor_m2 = QuantityFormField(
        AREA,
        label="Floor area",
        min_value=1,
        max_value=5000,
        required=False,
        example="42",
        help_text="Paced out is good enough.",
    )
    panels = CountField(
        label="Panels, roughly", min_value=1, max_value=2000, required=False
    )

    class Meta:
        model = Enquiry
        fields = (
            "asked_on",
            "bothers",
            "wants_noise_kept_out",
            "use",
            "tenure",
            "setting",
            "floor_m2",
            "panels",
            "budget_from",
            "budget_to",
            "wanted_by",
            "who_decides",
            "found_us",
        )
        labels = {
            "wants_noise_kept_out": "Noise comes through walls, floor or door",
            "use": "What the room is for",
            "tenure": "Whose walls they are",
            "setting": "Who comes in",
            "who_decides": "Who decides",
            "found_us": "How they found the shop",
        }

    def clean(self) -> dict[str, Any]:
        """Read both ends of the budget together."""
        cleaned: dict[str, Any] = super().clean() or {}
        low, high = cleaned.get("budget_from"), cleaned.get("budget_to")
        if low is not None and high is not None and high < low:
            self.add_error("budget_to", "The upper end is below the lower end.")
        return cleaned


class SiteForm(PlainModelForm):
    """Where rooms are and how to get in."""

    address = PlainCharField(
        max_length=400,
        multiline=True,
        error_messages={"required": "Type the address of the rooms."},
    )
    access_notes = PlainCharField(
        label="Getting in",
        max_length=2000,
        multiline=True,
        required=False,
        help_text="Parking, stairs, lift, the narrowest door, whom to ring.",
    )
    year_built = CountField(
        label="Year built",
        min_value=1000,
        max_value=2200,
        required=False,
        example="1965",
        help_text="Unknown counts as old: paint and ceilings need a test first.",
    )
    distance_km = QuantityFormField(
        DISTANCE,
        label="Distance from the shop",
        min_value=0,
        max_value=2000,
        required=False,
    )
    travel_minutes = CountField(
        label="Travel one way, minutes", max_value=1440, required=False, example="25"
    )

    class Meta:
        model = Site
        fields = (
            "address",
            "access_notes",
            "year_built",
            "tenure",
            "setting",
            "distance_km",
            "travel_minutes",
        )
        labels = {"tenure": "Whose walls they are", "setting": "Who comes in"}


class SiteAccessForm(SiteForm):
    """A site with all that a day there hangs on: the way in, the work, the papers."""

    access_notes = PlainCharField(
        label="Getting in",
        max_length=2000,
        multiline=True,
        required=False,
        help_text="What has no field below: the way round the back, the gate’s code.",
    )
    narrowest_door_ticks = LengthFormField(
        label="Narrowest door on the way in",
        required=False,
        max_ticks=5 * TICKS_PER_M,
        help_text="Clear width: every panel has to pass it.",
    )

    class Meta:
        model = Site
        labels = SiteForm.Meta.labels
        fields = (
            *SiteForm.Meta.fields,
            *WAY_IN,
            "narrowest_door_ticks",
            *DAY_THERE,
            *PAPERS,
        )
        help_texts = {
            "parking": "Where, how far, how long, how high.",
            "stairs": "How many, how steep, any tight turn.",
            "lift": "Its inside size, and who has the key.",
            "floor_protection": "What lies there, and what it must be covered with.",
            "working_hours": "When noise is allowed, and when nobody may be in.",
            "power": "Where there is a socket for tools.",
            "who_is_there": "Who lets us in and says yes on the spot, with a number.",
            "purchase_order": "The number that goes on every paper.",
        }

    def _part(self, names: tuple[str, ...]) -> list[BoundField]:
        return [self[name] for name in names]

    @property
    def way_in(self) -> list[BoundField]:
        """The fields about getting in, the door aside."""
        return self._part(WAY_IN)

    @property
    def day_there(self) -> list[BoundField]:
        """The fields about the day."""
        return self._part(DAY_THERE)

    @property
    def papers(self) -> list[BoundField]:
        """The fields about papers that companies ask for."""
        return self._part(PAPERS)


class FirstSiteForm(SiteForm):
    """The site of a new client; whose walls and who comes in is asked with the enquiry."""

    same = forms.BooleanField(
        label="The rooms are at the client’s address", initial=True, required=False
    )
    address = PlainCharField(
        label="Address of the rooms, if another",
        max_length=400,
        multiline=True,
        required=False,
    )

    class Meta:
        model = Site
        fields = (
            "address",
            "access_notes",
            "year_built",
            "distance_km",
            "travel_minutes",
        )

    def says_anything(self) -> bool:
        """Whether anything beside the address was typed."""
        return bool(set(self.changed_data) - {"same", "address"})


class NewClientForm:
    """Client, first enquiry and site in one go: nothing is asked twice."""

    def __init__(
        self, data: Any = None, *, today: dt.date, initial: Any = None
    ) -> None:
        """Bind the three parts to what was typed."""
        self.details = DetailsForm(data, initial=initial)
        self.enquiry = EnquiryForm(data, initial={"asked_on": today})
        self.site = FirstSiteForm(data, prefix="site")
        self.parts = (self.details, self.enquiry, self.site)

    def is_valid(self) -> bool:
        """Check all three, and that what is said of a site has an address."""
        refused = [part for part in self.parts if not part.is_valid()]
        if not refused and self.site.says_anything() and not self._address():
            self.site.add_error("address", "Type the address of the rooms.")
            return False
        return not refused

    def _address(self) -> str:
        typed: str = self.site.cleaned_data["address"]
        own: str = self.details.cleaned_data["address"]
        return typed or (own if self.site.cleaned_data["same"] else "")

    def first_site(self) -> Site | None:
        """Return the site, if its address is known, with what the enquiry says of it."""
        if not (address := self._address()):
            return None
        site: Site = self.site.save(commit=False)
        site.address = address
        site.tenure = self.enquiry.cleaned_data["tenure"]
        site.setting = self.enquiry.cleaned_data["setting"]
        return site

    # What the summary at the head of a refused form reads.

    def __iter__(self) -> Iterator[BoundField]:
        return chain.from_iterable(self.parts)

    @property
    def errors(self) -> bool:
        """Whether anything was refused."""
        return any(part.errors for part in self.parts)

    def non_field_errors(self) -> list[str]:
        """Return what was refused beside no field."""
        return [str(e) for part in self.parts for e in part.non_field_errors()]

    @property
    def status(self) -> int:
        """The answer's status: 422 when something typed was refused."""
        return max(part.status for part in self.parts)


class SaidForm(PlainForm):
    """What was said or agreed."""

    text = PlainCharField(
        label="What was said or agreed",
        max_length=2000,
        multiline=True,
        error_messages={"required": "Write down what was said."},
    )
