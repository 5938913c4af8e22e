"""Forms for what is in a room: finishes, furniture, places."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django import forms

from shared.forms import CountField, LengthFormField, PlainForm, PlainModelForm
from shop.catalogue.models import Finish
from shop.surveys import adapter
from shop.surveys.engine.presets import PRESETS
from shop.surveys.forms.surveys import HIGHEST_TICKS, LONGEST_TICKS
from shop.surveys.models import Covering, FurnitureKind, Spot, Surface, Survey

MOST = 5000
PRESET_CHOICES = tuple((key, preset.label) for key, preset in PRESETS.items())


def places(survey: Survey) -> Iterator[tuple[str, str]]:
    """Yield what a finish may lie on, of a survey that came `with_parts()`."""
    yield "walls", "all walls"
    for wall in survey.walls.all():
        yield f"wall:{wall.pk}", f"wall {wall.name}"
        for opening in wall.openings.all():
            yield f"opening:{opening.pk}", adapter.label_of(opening, wall)
    yield "ceiling", "ceiling"
    yield "floor", "floor"


def count_field(kind: str) -> CountField:
    """Return the field that counts a kind of furniture."""
    return CountField(
        label=str(FurnitureKind(kind).label).capitalize(),
        min_value=0,
        max_value=MOST,
        required=False,
        example="4",
    )


class CoveringForm(PlainModelForm):
    """A finish on a surface, or on a part of it."""

    where = forms.ChoiceField(label="What it lies on")
    width_ticks = LengthFormField(
        label="Width of the part",
        max_ticks=LONGEST_TICKS,
        required=False,
        help_text="Empty, with the height: all that is left of the surface.",
    )
    height_ticks = LengthFormField(
        label="Height of the part",
        max_ticks=LONGEST_TICKS,
        required=False,
        help_text="Of one side alone, a strip along the wall. On floor and ceiling: its depth.",
    )

    class Meta:
        model = Covering
        fields = ("finish", "width_ticks", "height_ticks", "note")
        help_texts = {"note": "Only to tell it from others, as in “rug”."}

    field_order = ("where", "finish", "width_ticks", "height_ticks", "note")

    def __init__(self, *args: Any, survey: Survey, **kwargs: Any) -> None:
        """Offer the survey's surfaces and the finishes in use."""
        super().__init__(*args, **kwargs)
        covering: Covering = self.instance
        where: Any = self.fields["where"]
        where.choices = tuple(places(survey))
        target = covering.wall_id or covering.opening_id
        if covering.surface:
            kind = str(covering.surface)
            self.initial.setdefault("where", f"{kind}:{target}" if target else kind)
        finish: Any = self.fields["finish"]
        finish.queryset = Finish.objects.offered(covering.finish_id)
        finish.required, finish.empty_label = True, "choose a finish"
        finish.error_messages["required"] = "Choose what it is covered with."

    def clean_where(self) -> str:
        """Put the surface on the row, so that its own rules are asked."""
        where: str = self.cleaned_data["where"]
        kind, _, target = where.partition(":")
        covering: Covering = self.instance
        covering.surface = kind
        covering.wall_id = target if kind == Surface.WALL else None
        covering.opening_id = target if kind == Surface.OPENING else None
        return where


class PresetForm(PlainForm):
    """One choice for the whole room."""

    preset = forms.ChoiceField(
        label="Finished like a",
        choices=PRESET_CHOICES,
        help_text="Sets all walls, ceiling and floor, and windows and doors that have no"
        " finish yet. What one wall has of its own stays.",
    )


class FurnitureForm(PlainForm):
    """How many of each kind are in the room."""

    def __init__(self, *args: Any, survey: Survey, **kwargs: Any) -> None:
        """Ask for each kind, showing what is counted."""
        super().__init__(*args, **kwargs)
        counted = {row.kind: row.count for row in survey.furniture.all()}
        for kind in FurnitureKind:
            self.fields[kind.value] = count_field(kind.value)
            if counted.get(kind.value):
                self.initial[kind.value] = counted[kind.value]

    def counts(self) -> dict[str, int]:
        """Return how many of each kind; what is left empty is none."""
        return {
            kind.value: self.cleaned_data[kind.value] or 0 for kind in FurnitureKind
        }


class SpotForm(PlainModelForm):
    """A place in the room by its distances from two walls."""

    left_ticks = LengthFormField(
        label="From the last wall", min_ticks=0, max_ticks=LONGEST_TICKS, required=False
    )
    bottom_ticks = LengthFormField(
        label="From the first wall",
        min_ticks=0,
        max_ticks=LONGEST_TICKS,
        required=False,
    )
    height_ticks = LengthFormField(
        label="Above the floor",
        min_ticks=0,
        max_ticks=HIGHEST_TICKS,
        required=False,
        help_text="Of ears, of the loudspeaker’s middle, of the desk’s top.",
    )
    width_ticks = LengthFormField(
        label="Width",
        max_ticks=LONGEST_TICKS,
        required=False,
        help_text="Of a desk or a screen.",
    )

    class Meta:
        model = Spot
        fields = (
            "kind",
            "name",
            "left_ticks",
            "bottom_ticks",
            "height_ticks",
            "width_ticks",
        )
        labels = {"kind": "What is there"}
        help_texts = {"name": "Only to tell it from others, as in “left loudspeaker”."}
