"""What is typed about a site day, its van list, and what holds its panels."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from jobs.board.codes import runs_of
from jobs.board.forms import SeenPanels
from jobs.board.models import Job, Panel
from jobs.visits.actions import DayPlan
from jobs.visits.models import LooseEnd, SiteDay, SiteDayKind
from jobs.visits.reports import DayPage, line_words, loose_ends, sites_of
from shared.days import DayFormField
from shared.forms import PlainCharField, PlainForm
from shared.quantities import LOAD, QuantityFormField
from shop.clients.models import Site
from shop.people.models import Person

STALE = "Something here is no longer there: load the page again."


class SiteChoice(forms.ModelChoiceField):  # type: ignore[type-arg]
    """A site, told by its whole address."""

    def label_from_instance(self, obj: Site) -> str:
        """Print the address in one line."""
        return ", ".join(obj.address.splitlines())

    def to_python(self, value: Any) -> Any:
        """Read an id; what is none is a page that is out of date."""
        try:
            return super().to_python(value)
        except ValidationError:
            raise ValidationError(
                self.error_messages["invalid_choice"], code="invalid_choice"
            ) from None


class PanelChoices(forms.ModelMultipleChoiceField):  # type: ignore[type-arg]
    """Panels of a job, told by code, build and stage."""

    def label_from_instance(self, obj: Panel) -> str:
        """Print what somebody has to know to choose it."""
        return f"{obj.code} {obj.spec_name}: {obj.get_stage_display()}"


class DayForm(PlainForm):
    """When, where, who and what of one site day."""

    on = DayFormField(label="Day")
    over = forms.BooleanField(
        label="It has been already: write it down afterwards", required=False
    )
    arrive_at = forms.TimeField(
        label="Arrive at",
        required=False,
        widget=forms.TimeInput(format="%H:%M", attrs={"type": "time"}),
        input_formats=("%H:%M", "%H:%M:%S", "%H.%M"),
        error_messages={"invalid": "This does not read as a time. Write it like 8:30."},
    )
    kind = forms.ChoiceField(
        label="What for",
        choices=SiteDayKind.choices,
        error_messages={
            "required": "Choose what the day is for.",
            "invalid_choice": "Choose survey, install or return.",
        },
    )
    site = SiteChoice(
        Site.objects.none(),
        label="Where",
        empty_label=None,
        error_messages={"required": "Choose where it is.", "invalid_choice": STALE},
    )
    crew = forms.ModelMultipleChoiceField(
        Person.objects.none(),
        label="Who goes",
        widget=forms.CheckboxSelectMultiple,
        error_messages={
            "required": "Choose at least one person.",
            "invalid_choice": STALE,
            "invalid_pk_value": STALE,
        },
    )
    panels = PanelChoices(
        Panel.objects.none(),
        label="Panels that go",
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text="Everything that isn’t installed yet, unless you take it off.",
        error_messages={"invalid_choice": STALE, "invalid_pk_value": STALE},
    )
    notes = PlainCharField(
        label="Notes",
        max_length=2000,
        multiline=True,
        required=False,
        help_text="What the crew has to know: keys, parking, whom to ring.",
    )

    def __init__(
        self, data: Any = None, *, job: Job, today: dt.date, day: SiteDay | None = None
    ) -> None:
        """Offer the job's own sites and panels, and whoever works here."""
        super().__init__(data, initial=_initial(job, day))
        self.today, self.is_over = today, False
        sites = sites_of(job)
        choices: dict[str, Any] = {
            "site": Site.objects.filter(pk__in=[site.pk for site in sites]),
            "crew": _people(day),
            "panels": Panel.objects.of_job(job).for_plates(),
        }
        for name, rows in choices.items():
            self.fields[name].queryset = rows  # type: ignore[attr-defined]
        if day is None:
            self.initial["site"] = sites[0].pk if len(sites) == 1 else None

    def clean(self) -> dict[str, Any]:
        """Ask for panels where something is to be hung."""
        cleaned = super().clean() or {}
        installs = cleaned.get("kind") == SiteDayKind.INSTALL
        if installs and "panels" not in self.errors and not cleaned.get("panels"):
            self.add_error("panels", "Choose at least one panel to install.")
        self._ask_if_over(cleaned)
        return cleaned

    def _ask_if_over(self, cleaned: dict[str, Any]) -> None:
        """Ask whether a day that is over is meant; one that stood already is not."""
        on: dt.date | None = cleaned.get("on")
        self.is_over = bool(on and on < self.today and on != self.initial.get("on"))
        if self.is_over and not cleaned.get("over"):
            self.add_error("on", "That day is over. Choose another, or tick below.")

    def plan(self) -> DayPlan:
        """Return what was written down, read and checked."""
        found = self.cleaned_data
        return DayPlan(
            on=found["on"],
            arrive_at=found["arrive_at"],
            kind=found["kind"],
            site=found["site"],
            crew=tuple(found["crew"]),
            panels=tuple(found["panels"]),
            notes=found["notes"],
        )


def _people(day: SiteDay | None) -> Any:
    """Offer who works here, and who was asked while they still did."""
    active = Person.objects.active()
    asked = day.crew.all() if day else Person.objects.none()
    return (active | Person.objects.filter(pk__in=asked)).in_order()


def _initial(job: Job, day: SiteDay | None) -> dict[str, Any]:
    if day is None:
        to_hang = Panel.objects.of_job(job).not_installed()
        return {
            "kind": SiteDayKind.INSTALL if job.is_open else SiteDayKind.RETURN,
            "arrive_at": dt.time(8, 30),
            "panels": list(to_hang.values_list("pk", flat=True)),
        }
    return {
        "on": day.on,
        "arrive_at": day.arrive_at,
        "kind": day.kind,
        "site": day.site_id,
        "notes": day.notes,
        "crew": [person.pk for person in day.crew.all()],
        "panels": list(day.site_day_panels.values_list("panel_id", flat=True)),
    }


class CloseForm(PlainForm):
    """What hangs now, as it was seen, and how the rest ended; nothing is an answer."""

    panel = SeenPanels(required=False)
    left = forms.MultipleChoiceField(
        label="Not ticked on the van list",
        required=False,
        error_messages={
            "invalid_choice": "The van list has changed since: look again.",
            "invalid_list": STALE,
        },
    )
    cleared_by = PlainCharField(
        label="Who cleared them, and when",
        max_length=200,
        required=False,
        help_text="A competent person, in writing. It goes on record with the day.",
    )

    def __init__(self, data: Any = None, *, page: DayPage) -> None:
        """Take the day as it is now: its panels, and the lines that were not ticked."""
        super().__init__(data)
        self.page = page
        chosen: Any = self.fields["left"]
        chosen.choices = [(line.key, line_words(line)) for line in page.unticked]

    @property
    def hangs(self) -> frozenset[str]:
        """What is ticked as hanging: as it was sent, else all that could go."""
        if self.is_bound:
            return frozenset(self["panel"].value() or ())
        return frozenset(p.value for p in self.page.to_install if not p.warning)

    def clean(self) -> dict[str, Any]:
        """Refuse a panel that hangs and was left behind."""
        cleaned = super().clean() or {}
        hung = {pk for pk, _ in cleaned.get("panel", ())}
        left = cleaned.get("left", ())
        both = [
            panel.code
            for panel in self.page.panels
            if panel.id in hung and f"panel:{panel.code}" in left
        ]
        if both:
            words = f"{runs_of(both)} can’t hang and be left behind: take one tick off."
            self.add_error("left", words)
        return cleaned

    def ends(self) -> tuple[LooseEnd, ...]:
        """Return what is left open, as it was answered."""
        found = self.cleaned_data
        return loose_ends(
            self.page,
            hung=[pk for pk, _ in found["panel"]],
            left=found["left"],
            cleared_by=found["cleared_by"],
        )


class TickForm(PlainForm):
    """One line of the van list, loaded or not."""

    key = forms.ChoiceField(
        error_messages={
            "required": "Tap a line of the list.",
            "invalid_choice": "This line is no longer on the list: it has changed.",
        }
    )
    on = forms.ChoiceField(
        choices=(("yes", "loaded"), ("no", "not loaded")),
        error_messages={
            "required": "Say whether it is loaded.",
            "invalid_choice": "Say whether it is loaded: yes or no.",
        },
    )

    def __init__(self, data: Any, *, keys: Iterable[str]) -> None:
        """Take the lines of the list as it is now, and no others."""
        super().__init__(data)
        chosen: Any = self.fields["key"]
        chosen.choices = [(key, key) for key in keys]


class StateForm(PlainForm):
    """What something may carry, and who says so."""

    subject = forms.ChoiceField(
        label="What carries",
        error_messages={
            "required": "Choose what it is about.",
            "invalid_choice": STALE,
        },
    )
    load_n = QuantityFormField(
        LOAD,
        label="Working load of each",
        unit_needed=True,
        max_value=1_000_000,
        example="500",
        help_text="With its unit: 50 kg, 490 N or 110 lb.",
    )
    source = PlainCharField(
        label="Who says so",
        max_length=200,
        help_text="The maker’s sheet and its date, an engineer, a load test of the shop.",
        error_messages={"required": "Say where the working load is from."},
    )

    def __init__(self, data: Any = None, *, names: dict[str, str]) -> None:
        """Take what stands in the load paths of the day, by name, and nothing else."""
        super().__init__(data)
        chosen: Any = self.fields["subject"]
        chosen.choices = [("", "Choose…"), *names.items()]


class TakeBackForm(PlainForm):
    """A statement that no longer holds."""

    subject = forms.ChoiceField(
        error_messages={"required": STALE, "invalid_choice": STALE}
    )

    def __init__(self, data: Any, *, names: dict[str, str]) -> None:
        """Take what stands in the load paths of the day, by name, and nothing else."""
        super().__init__(data)
        chosen: Any = self.fields["subject"]
        chosen.choices = list(names.items())
