"""Forms for a survey as a whole: the first, the next, the ceiling and notes."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from shared.access import RIGHTS, Right
from shared.days import DayFormField
from shared.forms import LengthFormField, PlainCharField, PlainModelForm
from shared.length import TICKS_PER_M
from shop.clients.models import Use
from shop.people.models import Person
from shop.surveys.models import CeilingShape, Construction, FramingRun, Survey

LONGEST_TICKS = 200 * TICKS_PER_M
"""The longest wall; more is a slip of the unit."""

HIGHEST_TICKS = 50 * TICKS_PER_M

THICKEST_TICKS = 2 * TICKS_PER_M


def surveyors() -> Any:
    """Return the people who may measure."""
    roles = [str(role) for role, rights in RIGHTS.items() if Right.SURVEY in rights]
    return Person.objects.active().filter(role__in=roles).in_order()


def made_fields() -> dict[str, LengthFormField]:
    """Return the fields for board and framing, which walls and ceilings share."""
    return {
        "board_thickness_ticks": LengthFormField(
            label="Board thickness", max_ticks=THICKEST_TICKS, required=False
        ),
        "framing_spacing_ticks": LengthFormField(
            label="Framing every",
            max_ticks=THICKEST_TICKS,
            required=False,
            help_text="From the middle of one stud or joist to the next.",
        ),
    }


def run_field(label: str, *runs: FramingRun) -> forms.ChoiceField:
    """Return the field for the way studs or joists run, of the ways that may be."""
    choices = [(run.value, run.label) for run in (FramingRun.UNKNOWN, *runs)]
    return forms.ChoiceField(label=label, choices=choices, required=False)


class _Measured(PlainModelForm):
    """Who measured, and when."""

    measured_on = DayFormField(label="Measured on")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        """Offer those who may measure, and whoever did."""
        super().__init__(*args, **kwargs)
        who: Any = self.fields["measured_by"]
        who.label, who.empty_label = "Measured by", None
        who.queryset = surveyors()
        if self.instance.measured_by_id and not self.instance._state.adding:
            did = Person.objects.filter(pk=self.instance.measured_by_id)
            who.queryset = who.queryset | did


class _Follows(forms.Form):
    """Which survey a new one follows, so that one page sent twice begins one survey."""

    follows = forms.IntegerField(widget=forms.HiddenInput, min_value=0)

    def clean_follows(self) -> int:
        """Refuse a page that is older than the latest survey."""
        follows: int = self.cleaned_data["follows"]
        if follows != self.initial["follows"]:
            raise ValidationError(
                "Another survey of this room was begun meanwhile. Go back to the room and"
                " carry on there."
            )
        return follows


class FirstSurveyForm(_Follows, _Measured):
    """A rectangular room by three numbers, and what it is made of."""

    length = LengthFormField(label="Length", max_ticks=LONGEST_TICKS)
    width = LengthFormField(label="Width", max_ticks=LONGEST_TICKS)
    height_ticks = LengthFormField(
        label="Height", max_ticks=HIGHEST_TICKS, required=False
    )
    use = forms.ChoiceField(
        label="What the room is used for", choices=Use.choices, required=False
    )
    walls_made_of = forms.ChoiceField(
        label="Walls are made of",
        choices=Construction.choices,
        required=False,
        help_text="All of them; change one afterwards.",
    )
    notes = PlainCharField(max_length=4000, multiline=True, required=False)

    class Meta:
        model = Survey
        fields = (
            "height_ticks",
            "construction",
            "heated",
            "measured_on",
            "measured_by",
            "notes",
        )
        labels = {
            "construction": "Ceiling is made of",
            "heated": "The ceiling is heated",
        }


class NextSurveyForm(_Follows, _Measured):
    """The next survey of a room: it begins with all that the last one holds."""

    notes = PlainCharField(
        max_length=4000,
        multiline=True,
        required=False,
        help_text="Why it is measured again.",
    )

    class Meta:
        model = Survey
        fields = ("measured_on", "measured_by", "notes")


class SurveyForm(_Measured):
    """Ceiling, notes, who and when of a survey that was begun."""

    # Heights at corners are read wall by wall.
    ceiling_shape = forms.ChoiceField(
        label="Shape of the ceiling",
        choices=CeilingShape.choices,
        required=False,
        help_text="Heights at corners are written down with their walls.",
    )

    height_ticks = LengthFormField(
        label="Height", max_ticks=HIGHEST_TICKS, required=False
    )
    board_thickness_ticks = made_fields()["board_thickness_ticks"]
    framing_spacing_ticks = made_fields()["framing_spacing_ticks"]
    framing_run = run_field("Joists run", FramingRun.ALONG, FramingRun.ACROSS)
    use = forms.ChoiceField(
        label="What the room is used for", choices=Use.choices, required=False
    )
    notes = PlainCharField(max_length=4000, multiline=True, required=False)

    class Meta:
        model = Survey
        fields = (
            "height_ticks",
            "ceiling_shape",
            "construction",
            "board_thickness_ticks",
            "framing_spacing_ticks",
            "framing_run",
            "heated",
            "measured_on",
            "measured_by",
            "notes",
        )
        labels = {
            "construction": "Ceiling is made of",
            "heated": "The ceiling is heated",
        }

    def clean_ceiling_shape(self) -> str:
        """Take a page that did not ask for the shape at its word: it stays as it is."""
        shape: str = self.cleaned_data["ceiling_shape"]
        return shape or self.instance.ceiling_shape
