"""Forms for the parts of a survey: an opening with its readings, a zone, a stud, a beam."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django import forms

from shared.forms import LengthFormField, PlainModelForm, typed
from shop.surveys.forms.surveys import (
    HIGHEST_TICKS,
    LONGEST_TICKS,
)
from shop.surveys.models import Axis, Beam, Member, Opening, Reading, Survey, Zone


class _WallChoice(forms.ModelChoiceField):  # type: ignore[type-arg]
    """A wall of the survey."""

    def label_from_instance(self, wall: Any) -> str:
        """Say wall A."""
        return f"wall {wall.name}"


_WHERE = (
    (Axis.WIDTH, ("at the top", "in the middle", "at the bottom")),
    (Axis.HEIGHT, ("on the left", "in the middle", "on the right")),
    (Axis.DIAGONAL, ("from the upper left", "from the upper right")),
)


def reading_fields() -> Iterator[tuple[str, LengthFormField]]:
    """Make a field for each reading; the first width and height are asked for."""
    for axis, places in _WHERE:
        for place, where in enumerate(places, start=1):
            first = place == 1 and axis != Axis.DIAGONAL
            label = axis.label.capitalize()
            yield (
                f"{axis.value}_{place}",
                LengthFormField(
                    label=label if first else f"{label} {where}",
                    max_ticks=HIGHEST_TICKS if axis == Axis.HEIGHT else LONGEST_TICKS,
                    required=first,
                    help_text=f"The first reading, {where}." if first else "",
                ),
            )


class OpeningForm(PlainModelForm):
    """An opening: where it is, its size by one reading or by several."""

    from_left_ticks = LengthFormField(
        label="From the left corner",
        min_ticks=0,
        max_ticks=LONGEST_TICKS,
        required=False,
    )
    sill_ticks = LengthFormField(
        label="Sill above the floor",
        min_ticks=0,
        max_ticks=HIGHEST_TICKS,
        required=False,
    )
    reveal_depth_ticks = LengthFormField(
        label="Depth of the reveal",
        min_ticks=0,
        max_ticks=HIGHEST_TICKS,
        required=False,
    )
    panel_depth_ticks = LengthFormField(
        label="How deep in it the panel will sit",
        min_ticks=0,
        max_ticks=HIGHEST_TICKS,
        required=False,
        help_text="From the wall’s face back to the panel’s back.",
    )

    class Meta:
        model = Opening
        fields = (
            "kind",
            "wall",
            "name",
            "from_left_ticks",
            "sill_ticks",
            "reveal_depth_ticks",
            "panel_depth_ticks",
            "obstructions",
            "glass",
            "faces",
            "gets_panel",
            "must_open",
        )
        field_classes = {"wall": _WallChoice}
        labels = {
            "kind": "What it is",
            "gets_panel": "It gets a panel",
            "must_open": "It must still open",
            "obstructions": "In the way",
            "glass": "Glass",
            "faces": "It faces",
        }
        help_texts = {"name": "Only to tell it from others, as in “bay, left”."}

    def __init__(self, *args: Any, survey: Survey, **kwargs: Any) -> None:
        """Offer the survey's walls; show the readings there are."""
        super().__init__(*args, **kwargs)
        wall: Any = self.fields["wall"]
        wall.queryset, wall.empty_label = survey.walls.standing(), None
        self.fields |= dict(reading_fields())
        self.stored = {} if self.instance._state.adding else self._stored()
        for name, reading in self.stored.items():
            self.initial[name] = reading.ticks

    def _stored(self) -> dict[str, Reading]:
        return {f"{r.axis}_{r.place}": r for r in self.instance.readings.all()}

    @property
    def more(self) -> list[forms.BoundField]:
        """The readings that unfold when they matter."""
        names = [
            f"{axis.value}_{n + 1}" for axis, all_ in _WHERE for n in range(len(all_))
        ]
        return [self[name] for name in names if name not in ("width_1", "height_1")]

    @property
    def more_open(self) -> bool:
        """Whether further readings stand open: some are there, or refused."""
        return any(field.value() or field.errors for field in self.more)

    @property
    def panel_open(self) -> bool:
        """Whether what a panel asks for stands open though none is meant: it is there."""
        names = (
            "reveal_depth_ticks",
            "panel_depth_ticks",
            "obstructions",
            "glass",
            "faces",
            "must_open",
        )
        return any(self[name].value() or self[name].errors for name in names)

    def readings(self) -> list[Reading]:
        """Return what was read, as it was typed. Call it when valid."""
        found = (
            self._reading(axis, place)
            for axis, places in _WHERE
            for place in range(1, len(places) + 1)
        )
        return [reading for reading in found if reading]

    def _reading(self, axis: Axis, place: int) -> Reading | None:
        name = f"{axis.value}_{place}"
        read = typed(self, name)
        if read is None:
            return None
        # A field nobody touched shows exact ticks, which nobody typed.
        kept = self.stored.get(name) if name not in self.changed_data else None
        text = kept.text if kept else read.text
        return Reading(axis=axis, place=place, ticks=read.ticks, text=text)


_USUAL = "Empty: as usual for its kind."


class ZoneForm(PlainModelForm):
    """A place to keep clear, on a wall or on the ceiling; what is empty is not read yet."""

    left_ticks = LengthFormField(
        label="From the left corner",
        min_ticks=0,
        max_ticks=LONGEST_TICKS,
        required=False,
        help_text="On the ceiling: from the last wall.",
    )
    bottom_ticks = LengthFormField(
        label="Above the floor",
        min_ticks=0,
        max_ticks=LONGEST_TICKS,
        required=False,
        help_text="On the ceiling: from the first wall.",
    )
    width_ticks = LengthFormField(
        label="Width", max_ticks=LONGEST_TICKS, required=False, help_text=_USUAL
    )
    height_ticks = LengthFormField(
        label="Height",
        max_ticks=LONGEST_TICKS,
        required=False,
        help_text=f"{_USUAL} On the ceiling: its depth, away from the first wall.",
    )
    margin_ticks = LengthFormField(
        label="Kept clear round it",
        min_ticks=0,
        max_ticks=LONGEST_TICKS,
        required=False,
        help_text=_USUAL,
    )

    class Meta:
        model = Zone
        fields = (
            "kind",
            "wall",
            "left_ticks",
            "bottom_ticks",
            "width_ticks",
            "height_ticks",
            "margin_ticks",
            "note",
        )
        field_classes = {"wall": _WallChoice}
        labels = {"kind": "What it is", "wall": "Where"}
        help_texts = {"wall": ""}

    def __init__(self, *args: Any, survey: Survey, **kwargs: Any) -> None:
        """Offer the survey's walls and the ceiling."""
        super().__init__(*args, **kwargs)
        wall: Any = self.fields["wall"]
        wall.queryset, wall.empty_label = survey.walls.standing(), "ceiling"


class MemberForm(PlainModelForm):
    """A stud that was found in a wall, or a joist in the ceiling."""

    at_ticks = LengthFormField(
        label="Its centre",
        min_ticks=0,
        max_ticks=LONGEST_TICKS,
        help_text="On a wall: from its left corner. In the ceiling: from the wall that it"
        " runs along.",
    )

    class Meta:
        model = Member
        fields = ("wall", "at_ticks", "note")
        field_classes = {"wall": _WallChoice}
        labels = {"wall": "Where"}
        help_texts = {"wall": "", "note": "As in: nail line, magnet, pilot hole."}

    def __init__(self, *args: Any, survey: Survey, **kwargs: Any) -> None:
        """Offer the survey's walls and the ceiling."""
        super().__init__(*args, **kwargs)
        wall: Any = self.fields["wall"]
        wall.queryset, wall.empty_label = survey.walls.standing(), "ceiling"


class BeamForm(PlainModelForm):
    """A beam or soffit below the ceiling."""

    length_ticks = LengthFormField(label="Length", max_ticks=LONGEST_TICKS)
    width_ticks = LengthFormField(label="Width", max_ticks=LONGEST_TICKS)
    drop_ticks = LengthFormField(
        label="How far it hangs down",
        max_ticks=HIGHEST_TICKS,
        help_text="From the ceiling to its underside.",
    )

    class Meta:
        model = Beam
        fields = ("kind", "length_ticks", "width_ticks", "drop_ticks", "note")
        labels = {"kind": "What it is"}
