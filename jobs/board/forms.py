"""What the bench sends: panels as they were seen, and what to do with them."""

from __future__ import annotations

import uuid
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from jobs.board.adapter import at_size
from jobs.board.models import Mark, Stage
from jobs.board.reports import BenchFilter
from quotes.specs.engine.model import TakeoffError
from shared.days import DayFormField
from shared.forms import LengthFormField, PlainCharField, PlainForm

MOST_AT_ONCE = 500


class SeenPanels(forms.Field):
    """Panels with the stage that each was seen at, as ``id:stage``."""

    widget = forms.MultipleHiddenInput
    default_error_messages = {
        "required": "Choose at least one panel first: tap its plate.",
        "unreadable": "Something on this page is out of date: load it again.",
        "many": f"Move at most {MOST_AT_ONCE} panels at once.",
    }

    def to_python(self, value: Any) -> tuple[tuple[uuid.UUID, str], ...]:
        """Read ids and stages; anything else is a page that is out of date."""
        if len(value or ()) > MOST_AT_ONCE:
            raise ValidationError(self.error_messages["many"])
        try:
            pairs = (str(text).split(":", 1) for text in value or ())
            return tuple((uuid.UUID(pk), Stage(stage).value) for pk, stage in pairs)
        except ValueError:
            raise ValidationError(self.error_messages["unreadable"]) from None


class MoveForm(PlainForm):
    """Panels, and where they are now."""

    panel = SeenPanels()
    to = forms.ChoiceField(
        choices=Stage.choices,
        error_messages={
            "required": "Say which stage the panels have reached.",
            "invalid_choice": "Choose one of the five stages.",
        },
    )


class MarkForm(PlainForm):
    """Panels, and the mark to set or to take off."""

    panel = SeenPanels()
    mark = forms.ChoiceField(
        choices=[*Mark.choices, *((f"no-{m}", f"not {m}") for m in Mark.values)],
        error_messages={
            "required": "Choose a mark.",
            "invalid_choice": "Choose one of the four marks.",
        },
    )
    word = PlainCharField(max_length=80, required=False, label="What for")

    def clean(self) -> dict[str, Any]:
        """Ask what is waited for, or what is to be done again."""
        cleaned = super().clean() or {}
        needs_word = cleaned.get("mark") in (Mark.WAITING, Mark.REWORK)
        if needs_word and not cleaned.get("word") and "word" not in self.errors:
            self.add_error("word", "Say in a word what for, as in “fabric”.")
        return cleaned

    def change(self) -> tuple[Mark, str]:
        """Return the mark and its new word: empty takes it off."""
        chosen: str = self.cleaned_data["mark"]
        if chosen.startswith("no-"):
            return Mark(chosen.removeprefix("no-")), ""
        return Mark(chosen), self.cleaned_data["word"] or "yes"


class WantedForm(PlainForm):
    """The day by which a job is wanted."""

    wanted_by = DayFormField(label="Wanted by", required=False)


class MeasureForm(PlainForm):
    """A panel's own size, as measured."""

    width = LengthFormField(label="Width, as measured", max_ticks=6_000 * 320)
    height = LengthFormField(label="Height, as measured", max_ticks=6_000 * 320)

    def __init__(
        self, data: Any = None, *, snapshot: dict[str, Any] | None = None, **kwargs: Any
    ) -> None:
        """Check what is typed against the frozen part of the panel."""
        super().__init__(data, **kwargs)
        self.snapshot = snapshot

    def clean(self) -> dict[str, Any]:
        """Refuse a size that the build can't be made in, beside the side that is wrong."""
        cleaned = super().clean() or {}
        width, height = cleaned.get("width"), cleaned.get("height")
        if self.snapshot and width and height:
            try:
                at_size(self.snapshot, width_ticks=width, height_ticks=height)
            except TakeoffError as refused:
                field = "height" if "height" in refused.field else "width"
                self.add_error(field, refused.message)
        return cleaned


def bench_filter(data: Any) -> BenchFilter:
    """Read what is wanted from a query; what is not known is left out."""
    stage = data.get("stage", "")
    return BenchFilter(
        job=_plain(data.get("job", ""), 8),
        fabric=_plain(data.get("fabric", ""), 120),
        stage=stage if stage in Stage.values else "",
    )


def _plain(text: str, most: int) -> str:
    return "".join(c for c in text if c.isprintable())[:most]
