"""A build with its braces, items and operations: one form and three sets of rows."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any, Self, cast

from django import forms
from django.forms import BaseInlineFormSet, inlineformset_factory
from django.forms.boundfield import BoundField
from django.forms.utils import ErrorDict

from quotes.specs import adapter
from quotes.specs.engine.model import NominalSize, Problem, TakeoffError
from quotes.specs.forms.fields import (
    Options,
    Pick,
    field_of_column,
    offer_materials,
    picked,
)
from quotes.specs.models import Brace, BuildSpec, Hanging, SpecItem, SpecOperation
from shared.forms import LengthFormField, PlainForm, PlainModelForm
from shop.catalogue.models import Driver

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
    def open_parts(self) -> list[Part]:
        """The parts that apply now."""
        return [part for part in self._parts() if part.is_open]

    @property
    def closed_parts(self) -> list[Part]:
        """The parts for other ways of holding it."""
        return [part for part in self._parts() if not part.is_open]

    def _parts(self) -> Iterator[Part]:
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
    def title(self) -> str:
        """What the row is, in a line; empty for a new one."""
        return str(self["name"].value() or "")

    @property
    def opens(self) -> bool:
        """Whether its fields are shown at once: new, changed or refused."""
        typed = self.is_bound and (self.has_changed() or self.errors)
        return bool(self.instance._state.adding or typed)

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

    @property
    def title(self) -> str:
        """How much of what, for each what."""
        material = picked(self["material"])
        driver = dict(Driver.choices).get(str(self["driver"].value()), "")
        amount = self["quantity"].value()
        return f"{amount} × {material} for each {driver}" if material else ""


class OperationForm(RowForm):
    """An operation."""

    class Meta(RowForm.Meta):
        model = SpecOperation
        fields = ("operation",)

    @property
    def title(self) -> str:
        """The operation."""
        return picked(self["operation"])


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


@dataclass(frozen=True, slots=True)
class Complaint:
    """One sentence about the form, and the field it is about."""

    label: str
    text: str
    field: BoundField | None = None


def _complaints(form: PlainModelForm) -> Iterator[Complaint]:
    for sentence in form.non_field_errors():
        yield Complaint("", str(sentence))
    for field in form:
        for sentence in field.errors:
            yield Complaint(str(field.label), str(sentence), field)


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

    @classmethod
    def grown(cls, spec: BuildSpec, data: Any, which: str) -> Self:
        """Read what was typed with one more row, and complain of nothing yet."""
        made = cls(spec, _with_one_more(data, which))
        for form in (made.build, *(form for rows in made.sets for form in rows)):
            # Django looks for errors when asked, unless it has looked already.
            form._errors = ErrorDict()
        return made

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

    @property
    def complaints(self) -> Iterator[Complaint]:
        """Every sentence of the whole form, in the order of the page."""
        yield from _complaints(self.build)
        for rows in self.sets:
            for sentence in rows.non_form_errors():
                yield Complaint("", str(sentence))
            for form in rows.forms:
                yield from _complaints(form)

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


def row_set_to_grow(data: Any) -> str:
    """Return the set of rows whose button "one more" was pressed, or nothing."""
    asked = data.get("more", "")
    return asked if asked in ROW_SETS else ""


def _with_one_more(data: Any, which: str) -> Any:
    more = data.copy()
    name = f"{which}-TOTAL_FORMS"
    total = str(more.get(name, ""))
    more[name] = str(min(int(total[:4]) + 1, MOST_ROWS)) if total.isdecimal() else "1"
    return more


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
            self.show(refused.problems)
            return None

    def show(self, problems: Iterable[Problem]) -> list[Problem]:
        """Put refusals of the size beside their fields; return those of the build."""
        fields = {"width_ticks": "w", "height_ticks": "h"}
        others = []
        for problem in problems:
            if self.is_bound and problem.field in fields:
                self.add_error(fields[problem.field], problem.message)
            else:
                others.append(problem)
        return others
