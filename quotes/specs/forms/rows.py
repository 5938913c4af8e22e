"""The rows of a build: braces, things it takes, work it takes."""

from __future__ import annotations

from typing import Any

from django import forms
from django.forms import BaseInlineFormSet, inlineformset_factory

from quotes.specs.forms.fields import (
    Options,
    Pick,
    field_of_column,
    offer_materials,
    picked,
)
from quotes.specs.models import Brace, BuildSpec, SpecItem, SpecOperation
from shared.forms import PlainModelForm
from shop.catalogue.models import Driver


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
