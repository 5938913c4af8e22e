"""Forms for walls: one of them with its corner, or all of a usual shape at once."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms

from shared.forms import (
    LengthFormField,
    PlainDecimalField,
    PlainModelForm,
    TypedLength,
    typed,
)
from shop.surveys.engine import RoomShape, SurveyError, turn_by_diagonal
from shop.surveys.forms.surveys import (
    HIGHEST_TICKS,
    LONGEST_TICKS,
    FirstSurveyForm,
    made_fields,
    run_field,
)
from shop.surveys.models import CornerKind, FramingRun, Wall

HALF = 180
_TURNS = {CornerKind.RIGHT: 90_000, CornerKind.LEFT: -90_000}


class WallForm(PlainModelForm):
    """A wall's length, how the corner at its end turns, and what it is made of."""

    length_ticks = LengthFormField(
        label="Length",
        max_ticks=LONGEST_TICKS,
        required=False,
        help_text="Empty: not read yet.",
    )
    height_ticks = LengthFormField(
        label="Ceiling height at its left corner",
        max_ticks=HIGHEST_TICKS,
        required=False,
        help_text="Only where you read it there.",
    )
    inside_angle = PlainDecimalField(
        label="Angle inside the room",
        required=False,
        min_value=Decimal("0.1"),
        max_value=Decimal("359.9"),
        help_text="In degrees: 90 is square, 135 a cut corner, above 180 it juts in.",
    )
    diagonal_ticks = LengthFormField(
        label="Diagonal over the corner",
        max_ticks=LONGEST_TICKS,
        required=False,
        help_text="From this wall’s left corner to the right corner of the next wall.",
    )
    board_thickness_ticks = made_fields()["board_thickness_ticks"]
    framing_spacing_ticks = made_fields()["framing_spacing_ticks"]
    framing_run = run_field("Studs run", FramingRun.UPRIGHT, FramingRun.LEVEL)

    class Meta:
        model = Wall
        fields = (
            "name",
            "length_ticks",
            "height_ticks",
            "corner",
            "diagonal_ticks",
            "construction",
            "board_thickness_ticks",
            "framing_spacing_ticks",
            "framing_run",
            "heated",
        )
        labels = {
            "corner": "Corner at its end",
            "construction": "Made of",
            "heated": "Heating runs in it",
        }
        help_texts = {"corner": "Facing the wall, the corner on your right."}
        error_messages = {"name": {"required": "Give the wall a name, as in A."}}

    def __init__(self, *args: Any, after: Wall | None = None, **kwargs: Any) -> None:
        """Show the angle of the corner; `after` is the wall that follows."""
        super().__init__(*args, **kwargs)
        self.after = after
        if self.instance.corner == CornerKind.ANGLE:
            inside = HALF - Decimal(self.instance.turn_millidegrees) / 1000
            self.initial["inside_angle"] = inside.normalize()

    @property
    def corner_open(self) -> bool:
        """Whether angle and diagonal stand open: one is there, or was refused."""
        asked = (self["inside_angle"], self["diagonal_ticks"])
        return any(field.value() or field.errors for field in asked)

    def clean(self) -> dict[str, Any] | None:
        """Ask for the angle or the diagonal where the corner hangs on it."""
        found: dict[str, Any] | None = super().clean()
        kind = self.cleaned_data.get("corner")
        if kind == CornerKind.ANGLE:
            self._by_angle()
        elif kind == CornerKind.DIAGONAL:
            self._by_diagonal()
        elif kind:
            self.instance.turn_millidegrees = _TURNS[CornerKind(kind)]
        return found

    def _by_angle(self) -> None:
        inside = self.cleaned_data.get("inside_angle")
        if inside is not None:
            self.instance.turn_millidegrees = round((HALF - inside) * 1000)
        elif "inside_angle" not in self.errors:
            self.add_error("inside_angle", "Type the angle of the corner, as in 135.")

    def _by_diagonal(self) -> None:
        diagonal = self.cleaned_data.get("diagonal_ticks")
        length = self.cleaned_data.get("length_ticks")
        if diagonal is None:
            if "diagonal_ticks" not in self.errors:
                self.add_error("diagonal_ticks", "Type the diagonal over the corner.")
        elif length is not None and self.after and self.after.length_ticks:
            try:
                turn = turn_by_diagonal(length, self.after.length_ticks, diagonal)
            except SurveyError as refused:
                self.add_error("diagonal_ticks", refused.message)
            else:
                self.instance.turn_millidegrees = turn


class ShapedSurveyForm(FirstSurveyForm):
    """The first survey of a room of a usual shape: a length for each of its walls."""

    length = width = None  # type: ignore[assignment]

    def __init__(self, *args: Any, shape: RoomShape, **kwargs: Any) -> None:
        """Ask for each wall, and for the angle where a corner is cut."""
        super().__init__(*args, **kwargs)
        self.shape = shape
        for name in shape.names:
            self.fields[f"wall_{name}"] = LengthFormField(
                label=f"Wall {name}", max_ticks=LONGEST_TICKS
            )
        if shape.has_cut:
            self.fields["inside_angle"] = PlainDecimalField(
                label="Angle inside between A and B",
                initial=135,
                min_value=Decimal("90.1"),
                max_value=Decimal("179.9"),
                help_text="In degrees: 135 where the corner is cut evenly.",
            )

    @property
    def wall_fields(self) -> list[forms.BoundField]:
        """The fields of the walls, in the order of the walk."""
        return [self[f"wall_{name}"] for name in self.shape.names]

    def lengths(self) -> list[TypedLength]:
        """Return what was read of each wall. Call it when valid."""
        read = (typed(self, f"wall_{name}") for name in self.shape.names)
        return [length for length in read if length]

    @property
    def inside_millidegrees(self) -> int:
        """The angle between A and B; of no account without a cut. Call it when valid."""
        inside: Decimal = self.cleaned_data.get("inside_angle", Decimal(135))
        return round(inside * 1000)
