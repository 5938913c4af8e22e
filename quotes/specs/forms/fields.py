"""Form fields of builds: choices read once, and lengths that may be left empty."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Self, cast

from django import forms
from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.text import capfirst

from quotes.specs.adapter import materials_of
from quotes.specs.models import BuildSpec
from shared.forms import CountField, LengthFormField, PlainDecimalField
from shared.forms.base import plain_formfield
from shared.models import LengthField
from shop.catalogue.models import Material, MaterialKind, Operation


class Pick(forms.Field):
    """One of rows that were read once for all the pickers of a page: no query of its own."""

    widget = forms.Select
    default_error_messages = {
        "required": "Choose one.",
        "gone": "Choose one from the list.",
    }

    def __init__(self, *, empty: str = "—", **kwargs: Any) -> None:
        """Take the words for nothing chosen; rows come by `offer`."""
        self.empty = empty
        self.rows: Mapping[str, models.Model] = {}
        super().__init__(**kwargs)

    def offer(self, rows: Iterable[models.Model], labels: Iterable[str] = ()) -> None:
        """Offer these rows, under their own names unless told otherwise."""
        listed = list(rows)
        names = list(labels) or [str(row) for row in listed]
        self.rows = {str(row.pk): row for row in listed}
        choices = list(zip(self.rows, names, strict=True))
        self.widget.choices = [("", self.empty), *choices]

    def prepare_value(self, value: Any) -> Any:
        """Show a row by its key."""
        return (
            str(value.pk) if isinstance(value, models.Model) else value and str(value)
        )

    def to_python(self, value: Any) -> models.Model | None:
        """Find the row among those offered."""
        if value in self.empty_values:
            return None
        if isinstance(value, models.Model):
            return value
        if found := self.rows.get(str(value)):
            return found
        raise ValidationError(self.error_messages["gone"], code="gone")

    def has_changed(self, initial: Any, data: Any) -> bool:
        """Whether another row was chosen."""
        return str(self.prepare_value(initial) or "") != str(data or "")


def picked(field: forms.BoundField) -> str:
    """Name what is chosen in a picker, without a query."""
    picker = cast("Pick", field.field)
    row = picker.rows.get(str(picker.prepare_value(field.value())))
    return str(row) if row else ""


class LengthOrNone(LengthFormField):
    """A length that may be left empty, which is stored as 0."""

    def __init__(self, **kwargs: Any) -> None:
        """Take nothing, or zero, or more."""
        super().__init__(**kwargs | {"required": False, "min_ticks": 0})

    def prepare_value(self, value: Any) -> Any:
        """Show nothing for zero."""
        return None if value == 0 else value

    def clean(self, value: Any) -> int:
        """Turn nothing into zero."""
        return super().clean(value) or 0


def _limits(field: models.Field[Any, Any]) -> dict[str, Any]:
    """Carry a column's own limits to its form field."""
    found: dict[str, Any] = {}
    for validator in field.validators:
        limit: Any = getattr(validator, "limit_value", None)
        if isinstance(validator, MaxValueValidator):
            found["max_value"] = limit
        if isinstance(validator, MinValueValidator):
            found.setdefault("min_value", limit)
    return found


def _decimal(field: Any, words: dict[str, Any]) -> PlainDecimalField:
    whole = field.max_digits - field.decimal_places
    usual = {"max_value": 10**whole - 1, "decimals": field.decimal_places}
    return PlainDecimalField(**words | usual | {"example": "1.5"} | _limits(field))


def _length(field: Any, words: dict[str, Any]) -> LengthFormField:
    if field.has_default():
        return LengthOrNone(**words | {"initial": field.get_default()})
    return LengthFormField(**words)


def field_of_column(field: models.Field[Any, Any], **kwargs: Any) -> Any:
    """Make the form field of a column of a build: one of ours, or Django's."""
    words: dict[str, Any] = {
        "label": capfirst(field.verbose_name),
        "help_text": field.help_text,
        "required": not field.blank,
    }
    if isinstance(field, models.ForeignKey):
        return Pick(**words)
    if isinstance(field, LengthField):
        return _length(field, words)
    if isinstance(field, models.DecimalField):
        return _decimal(field, words)
    if isinstance(field, models.PositiveSmallIntegerField):
        return CountField(**words | _limits(field) | {"required": True})
    return plain_formfield(field, **kwargs)


@dataclass(frozen=True, slots=True)
class Options:
    """What the pickers of a build's pages offer."""

    materials: tuple[Material, ...]
    operations: tuple[Operation, ...]

    @classmethod
    def live(cls, spec: BuildSpec | None = None) -> Self:
        """Read all in use, and whatever the build has that was put aside. Two queries."""
        kept_materials, kept_operations = set(), set()
        if spec is not None:
            kept_materials = {m.pk for m in _materials_in(spec)}
            kept_operations = {row.operation_id for row in spec.operations.all()}
        return cls(
            tuple(_live_or(Material.objects.all(), kept_materials)),
            tuple(_live_or(Operation.objects.all(), kept_operations)),
        )

    def of_kinds(self, *kinds: str) -> list[Material]:
        """Return the materials of some kinds."""
        return [material for material in self.materials if material.kind in kinds]


def _materials_in(spec: BuildSpec) -> Iterable[Material]:
    return materials_of(spec).values()


def _live_or(rows: models.QuerySet[Any], kept: set[Any]) -> models.QuerySet[Any]:
    return rows.filter(models.Q(archived_at__isnull=True) | models.Q(pk__in=kept))


WOOD = (MaterialKind.SHEET, MaterialKind.BOARD)
COUNTED = (MaterialKind.HARDWARE, MaterialKind.CONSUMABLE)

OFFERED: dict[str, tuple[str, ...]] = {
    "frame_stock": WOOD,
    "fill": (MaterialKind.FILL,),
    "front_fabric": (MaterialKind.FABRIC,),
    "front_lining": (MaterialKind.FABRIC,),
    "back_fabric": (MaterialKind.FABRIC,),
    "blocking_stock": WOOD,
    "edge_strip": COUNTED,
    "battens_stock": WOOD,
    "feet_stock": WOOD,
    "stock": WOOD,
    "material": COUNTED,
}
"""Which kinds of material a field takes."""


def offer_materials(form: forms.BaseForm, options: Options) -> None:
    """Fill every picker of materials in a form."""
    for name, kinds in OFFERED.items():
        if name in form.fields:
            picker = form.fields[name]
            if isinstance(picker, Pick):
                picker.offer(options.of_kinds(*kinds))
