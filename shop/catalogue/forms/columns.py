"""The columns of each list of the stores as a file: how a cell is written and read.

A cell is what the box of the same field would show, and is read by that field, so that a
file holds what a page holds and nothing is judged by two rules.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from babel.numbers import get_decimal_symbol
from django import forms
from django.core.exceptions import ValidationError
from django.db import models

from shared.conventions import current
from shared.forms import LengthFormField, MoneyFormField, PlainDecimalField
from shared.length import show_exact
from shared.quantities import QuantityFormField
from shop.catalogue.models import MaterialKind

YES, NO = "yes", "no"
ASIDE = "put_aside"

_THREE_DECIMALS = re.compile(r"(\s*(?!0+[.,])[0-9]{1,3}([.,])[0-9]{3})(?![0-9.,])")


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its name in the file, and the field of the row that it shows."""

    name: str
    attr: str
    field: forms.Field

    @property
    def title(self) -> str:
        """Its name, with the unit where the cells don't say it."""
        unit = self.unit
        said = isinstance(self.field, LengthFormField | QuantityFormField)
        return self.name if said or not unit else f"{self.name} ({unit})"

    @property
    def unit(self) -> str:
        """What a bare number is in; nothing for text, and for what has to say its unit."""
        if isinstance(self.field, LengthFormField):
            return "mm" if current().is_metric else "in"
        if isinstance(self.field, QuantityFormField):
            return "" if self.field.unit_needed else self.field.measure.usual
        if isinstance(self.field, MoneyFormField):
            return current().currency
        return "Pa·s/m²" if self.attr == "flow_resistivity" else ""

    def text(self, row: models.Model) -> str:
        """Write a row's value as its box would show it."""
        value = getattr(row, self.attr)
        if isinstance(value, bool):
            return YES if value else NO
        if value is None or isinstance(value, models.Model):
            return str(value or "")
        if isinstance(self.field, LengthFormField):
            return show_exact(value, units=current().unit_system)
        if isinstance(value, float) and not isinstance(self.field, QuantityFormField):
            value = Decimal(str(value))
        return str(self.field.prepare_value(value))

    def says(self, row: models.Model) -> bool:
        """Whether the row has more here than nothing."""
        return self.text(row) not in {"", NO}

    def typed(self, cell: str) -> str:
        """Turn a cell into what would be typed into the box."""
        if isinstance(self.field, forms.BooleanField):
            return "on" if _yes(cell) else ""
        if isinstance(self.field, forms.ModelChoiceField):
            return cell
        if isinstance(self.field, forms.ChoiceField):
            return choice(cell, self.field.choices)
        if isinstance(self.field, PlainDecimalField):
            return _number(self.field, cell)
        return cell


def _yes(cell: str) -> bool:
    """Read a yes or no; nothing is no."""
    plain = cell.strip().casefold()
    if plain not in {YES, NO, ""}:
        raise ValidationError("Write yes or no.")
    return plain == YES


def choice(cell: str, choices: Any) -> str:
    """Read a choice by its short name or its words."""
    plain = " ".join(cell.split()).casefold()
    pairs = [(str(value), str(words)) for value, words in choices]
    for value, words in pairs:
        if plain in {value.casefold(), words.casefold()}:
            return value
    known = ", ".join(value for value, _ in pairs if value)
    raise ValidationError(f"Write one of these: {known}.")


def _number(field: PlainDecimalField, cell: str) -> str:
    """Let 1.125 be a decimal where the shop's own decimals are written so.

    Spreadsheets drop the fourth decimal, which tells it from a thousand.
    """
    try:
        field.to_python(cell)
    except ValidationError as refused:
        found = _THREE_DECIMALS.match(cell)
        own = get_decimal_symbol(current().locale)
        if refused.code == "thousands" and found and found[2] == own:
            return f"{found[1]}0{cell[found.end() :]}"
    return cell


_ENDINGS = re.compile(r"_(?:ticks|kg_m3|n)$")
_NAMES = {
    "unit": "counted_in",
    "mass_g_m2": "mass_per_area",
    "mass_g_each": "mass_each",
}


def columns_of(form: type[forms.ModelForm[Any]], *first: Column) -> tuple[Column, ...]:
    """Return a column for each field of a form, after those that only files have."""
    fields: Mapping[str, forms.Field] = form.base_fields
    rest = (
        Column(_NAMES.get(attr) or _ENDINGS.sub("", attr), attr, field)
        for attr, field in fields.items()
    )
    aside = Column(ASIDE, "is_archived", forms.BooleanField(required=False))
    return (*first, *rest, aside)


KIND = Column("kind", "kind", forms.ChoiceField(choices=MaterialKind.choices))
