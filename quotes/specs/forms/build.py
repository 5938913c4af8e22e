"""A build with its braces, items and operations: one form and three sets of rows."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, cast

from django import forms
from django.forms import BaseInlineFormSet, inlineformset_factory
from django.forms.boundfield import BoundField
from django.forms.utils import ErrorDict

from quotes.specs import adapter
from quotes.specs.engine.model import NominalSize, TakeoffError
from quotes.specs.forms.fields import (
    Options,
    Pick,
    field_of_column,
    offer_materials,
)
from quotes.specs.models import Brace, BuildSpec, Hanging, SpecItem, SpecOperation
from shared.forms import LengthFormField, PlainForm, PlainModelForm

FRAME = (
    "depth_ticks",
    "frame_stock",
    "joint",
    "through",
    "glued",
    "fastening",
    "kerf_ticks",
    "stile_bevel_deg",
    "wood_yield_percent",
    "one_person_kg",
)
FILL = ("fill", "fill_layers", "fill_setback_front_ticks", "fill_oversize_ticks")
CLOTH = (
    "front_fabric",
    "front_lining",
    "wrap_ticks",
    "finished_growth_ticks",
    "back_fabric",
    "back_style",
    "turn_ticks",
    "allow_seam",
    "seam_ticks",
)
HELD = {
    Hanging.CLEAT: (
        "cleat_wall_share",
        "cleat_wall_fixed_ticks",
        "cleat_wall_min_ticks",
        "cleat_step_ticks",
        "cleat_two_over_ticks",
        "cleat_two_travel_ticks",
        "cleat_margin_ticks",
        "cleat_finger_ticks",
        "cleat_holes",
        "cleat_hole_inset_ticks",
        "cleat_hole_spacing_ticks",
    ),
    Hanging.CHAIN: (
        "points_across",
        "points_down",
        "points_inset_ticks",
        "points_max_spacing_ticks",
    ),
    Hanging.EDGE: ("edge_clearance_ticks", "edge_strip", "edge_compressed_ticks"),
    Hanging.BATTENS: (
        "battens_strip_ticks",
        "battens_stock",
        "battens_count",
        "battens_end_gap_ticks",
        "battens_holes",
    ),
    Hanging.FEET: (
        "feet_length_ticks",
        "feet_strip_ticks",
        "feet_stock",
        "feet_count",
        "feet_inset_ticks",
    ),
}
BLOCKS = (
    "blocking_length_ticks",
    "blocking_width_ticks",
    "blocking_layers",
    "blocking_stock",
)

ENGINE_FIELDS = {
    "cleat": "cleat_wall_share",
    "points": "points_inset_ticks",
    "blocking": "blocking_length_ticks",
    "edge": "edge_clearance_ticks",
    "battens": "battens_strip_ticks",
    "feet": "feet_strip_ticks",
}
"""Where a refusal of a whole rule is shown."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the form: its heading and fields; a closed one does not apply now."""

    legend: str
    fields: list[BoundField]
    is_open: bool = True


class BuildForm(PlainModelForm):
    """Everything of a build but its rows."""

    class Meta:
        model = BuildSpec
        fields = (
            "name",
            "kind",
            "hanging",
            "notes",
            *FRAME,
            *FILL,
            *CLOTH,
            *(name for names in HELD.values() for name in names),
            *BLOCKS,
        )
        formfield_callback = field_of_column

    def __init__(self, *args: Any, options: Options, **kwargs: Any) -> None:
        """Fill the pickers."""
        super().__init__(*args, **kwargs)
        offer_materials(self, options)

    @property
    def parts(self) -> Iterator[Part]:
        """The form in parts, those that do not apply closed."""
        yield Part("The build", self._bound("name", "kind", "hanging", "notes"))
        yield Part("Frame", self._bound(*FRAME))
        yield Part("Fill", self._bound(*FILL))
        yield Part("Cloth", self._bound(*CLOTH))
        now = self["hanging"].value()
        for hanging, names in HELD.items():
            legend = f"Held by {hanging.label}"
            yield Part(
                legend, self._bound(*names), self._shows(names, applies=hanging == now)
            )
        shown = self._shows(BLOCKS, applies=now == Hanging.CHAIN)
        yield Part("Blocks under hanging points", self._bound(*BLOCKS), shown)

    def _bound(self, *names: str) -> list[BoundField]:
        return [self[name] for name in names]

    def _shows(self, names: tuple[str, ...], *, applies: bool) -> bool:
        return applies or any(self[name].errors for name in names)


class RowForm(PlainModelForm):
    """A row of a build; pickers come from the page's options."""

    class Meta:
        fields: tuple[str, ...] = ()
        formfield_callback = field_of_column

    def __init__(self, *args: Any, options: Options, **kwargs: Any) -> None:
        """Fill the pickers."""
        super().__init__(*args, **kwargs)
        offer_materials(self, options)
        picker = self.fields.get("operation")
        if isinstance(picker, Pick):
            names = [f"{o} ({o.get_stage_display()})" for o in options.operations]
            picker.offer(options.operations, names)

    @property
    def is_out(self) -> bool:
        """Whether the row is to be taken out."""
        return bool(getattr(self, "cleaned_data", {}).get("DELETE"))


class BraceForm(RowForm):
    """A brace."""

    class Meta(RowForm.Meta):
        model = Brace
        fields = (
            "name",
            "runs",
            "lies",
            "place",
            "strip_ticks",
            "stock",
            "edge",
            "bevel_deg",
            "from_face",
            "setback_ticks",
            "fraction",
            "max_span_ticks",
            "when_over_ticks",
        )


class ItemForm(RowForm):
    """Hardware or a consumable."""

    class Meta(RowForm.Meta):
        model = SpecItem
        fields = (
            "material",
            "quantity",
            "driver",
            "spare_percent",
            "for_site",
            "in_load_path",
        )


class OperationForm(RowForm):
    """An operation."""

    class Meta(RowForm.Meta):
        model = SpecOperation
        fields = ("operation",)


class Rows(BaseInlineFormSet[Any, Any, Any]):
    """Rows of a build with a tick that takes one out."""

    def add_fields(self, form: forms.BaseForm, index: int | None) -> None:
        """Say in the shop's words what the tick does."""
        super().add_fields(form, index)
        form.fields["DELETE"].label = "Take it out"


MOST_ROWS = 60
ROW_SETS = ("braces", "items", "operations")


def _rows(
    model: type[Any], form: type[RowForm]
) -> type[BaseInlineFormSet[Any, Any, Any]]:
    return inlineformset_factory(
        BuildSpec,
        model,
        form=form,
        formset=Rows,
        extra=0,
        max_num=MOST_ROWS,
        validate_max=True,
        absolute_max=MOST_ROWS,
    )


BraceRows = _rows(Brace, BraceForm)
ItemRows = _rows(SpecItem, ItemForm)
OperationRows = _rows(SpecOperation, OperationForm)


class BuildForms:
    """The whole form of a build: its fields and its three sets of rows."""

    def __init__(self, spec: BuildSpec, data: Any = None) -> None:
        """Read what was typed, if anything was. Two queries for a spec with parts."""
        options = Options.live(spec)
        row_options: dict[str, Any] = {
            "form_kwargs": {"options": options},
            "instance": spec,
        }
        self.build = BuildForm(data, instance=spec, options=options)
        self.braces = BraceRows(
            data, prefix="braces", queryset=spec.braces.all(), **row_options
        )
        self.items = ItemRows(
            data, prefix="items", queryset=spec.items.all(), **row_options
        )
        self.operations = OperationRows(
            data, prefix="operations", queryset=spec.operations.all(), **row_options
        )

    @property
    def sets(self) -> tuple[BaseInlineFormSet[Any, Any, Any], ...]:
        """The three sets of rows."""
        return (self.braces, self.items, self.operations)

    def is_valid(self) -> bool:
        """Whether each field reads, and together they make a build."""
        each = [self.build.is_valid(), *(rows.is_valid() for rows in self.sets)]
        return all(each) and self._makes_a_build()

    @property
    def status(self) -> int:
        """422 when something typed was refused."""
        refused = any(self.build.errors) or any(
            s.total_error_count() for s in self.sets
        )
        return 422 if self.build.is_bound and refused else 200

    def parts(self) -> adapter.SpecParts:
        """Return the rows as typed, those taken out left out."""
        braces, items, operations = (
            tuple(form.instance for form in _kept(rows)) for rows in self.sets
        )
        return adapter.SpecParts(braces, items, operations)

    def _makes_a_build(self) -> bool:
        try:
            adapter.build_of(self.build.instance, self.parts())
        except TakeoffError as refused:
            self._show(refused)
            return False
        return True

    def _show(self, refused: TakeoffError) -> None:
        """Put the takeoff's sentence beside the field it is about."""
        row = re.fullmatch(r"(braces|items)\[(\d+)\]\.(\w+)", refused.field)
        if row:
            form: PlainModelForm = _kept(getattr(self, row[1]))[int(row[2])]
            name = {"position": "place"}.get(row[3], row[3])
        else:
            form = self.build
            name = ENGINE_FIELDS.get(refused.field, refused.field)
        form.add_error(name if name in form.fields else None, refused.message)


def _kept(rows: BaseInlineFormSet[Any, Any, Any]) -> list[RowForm]:
    return [cast("RowForm", form) for form in rows.forms if not form.is_out]


def with_one_more(data: Any, which: str) -> Any:
    """Return what was typed with one more empty row in a set of rows."""
    more = data.copy()
    name = f"{which}-TOTAL_FORMS"
    total = str(more.get(name, ""))
    more[name] = str(min(int(total) + 1, MOST_ROWS)) if total.isdecimal() else "1"
    return more


def silence(forms_of_build: BuildForms) -> None:
    """Show no complaints yet: the person is still adding rows."""
    for form in (forms_of_build.build, *(f for s in forms_of_build.sets for f in s)):
        # Django finds errors when they are asked for, unless they are already there.
        form._errors = ErrorDict()


class ExampleForm(PlainForm):
    """The size at which a build is shown."""

    w = LengthFormField(label="Width")
    h = LengthFormField(label="Height")

    def size(self) -> NominalSize | None:
        """Return the size typed; nothing, with a sentence beside it, if there is none."""
        if not self.is_valid():
            return None
        try:
            return NominalSize(self.cleaned_data["w"], self.cleaned_data["h"])
        except TakeoffError as refused:
            self.add_error(
                "w" if refused.field == "width_ticks" else "h", refused.message
            )
            return None
