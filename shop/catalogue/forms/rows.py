"""The forms of the pages, for many rows of a file: no question to the database for each."""

from __future__ import annotations

import copy
from collections.abc import Iterable
from typing import Any, Self

from django import forms
from django.core.exceptions import ValidationError
from django.db import models
from django.forms.models import construct_instance

from shared.constraints import check_row
from shared.forms import PlainModelForm
from shop.catalogue.forms.stores import (
    FinishForm,
    MaterialForm,
    OperationForm,
    SupplierForm,
)
from shop.catalogue.models import Supplier


class ManyRows(PlainModelForm):
    """One of many rows: its key is known to be free, its constraints are read here."""

    def again(self, row: models.Model) -> Self:
        """Return this form for another row of its kind: copying fields takes longest."""
        form = copy.copy(self)
        form.fields, form.instance = dict(self.fields), row
        form._errors, form._bound_fields_cache = None, {}  # type: ignore[attr-defined]
        return form

    def ask(self, name: str) -> None:
        """Ask for a field that the page leaves out: a file may bring it all the same."""
        self.fields[name] = copy.deepcopy(self.base_fields[name])
        self.fields[name].required = False

    def add_error(self, field: str | None, error: Any) -> None:
        """Say it beside the field, also where the page doesn't ask for it."""
        if field and field not in self.fields:
            self.ask(field)
        super().add_error(field, error)

    def _post_clean(self) -> None:
        """Judge the row as Django does, without its questions to the database."""
        left_out = self._left_out()
        self.instance = construct_instance(self, self.instance, self._meta.fields)
        for judge in (models.Model.clean_fields, check_row):
            try:
                judge(self.instance, exclude=left_out)
            except ValidationError as refused:
                self._update_errors(refused)  # type: ignore[attr-defined]

    def _left_out(self) -> set[str]:
        """Name the fields not to judge: those refused already, and foreign keys."""
        keys = {f.name for f in self.instance._meta.concrete_fields if f.is_relation}
        return keys | self._get_validation_exclusions()  # type: ignore[attr-defined,no-any-return]


class SupplierNames:
    """Suppliers by name: as written, else without regard to capitals."""

    def __init__(self, rows: Iterable[Supplier]) -> None:
        """Keep them by both spellings."""
        self.exact = {row.name: row for row in rows}
        self.plain = {row.name.lower(): row for row in self.exact.values()}

    def find(self, name: str) -> Supplier | None:
        """Return the one of this name."""
        return self.exact.get(name) or self.plain.get(name.lower())


class SupplierNameField(forms.Field):
    """Reads a supplier's name; one that was put aside only where it stands already."""

    def __init__(self, names: SupplierNames, keep: Any) -> None:
        """Name the suppliers, and the one that the row has."""
        self.names, self.keep = names, keep
        super().__init__(required=False)

    def to_python(self, value: Any) -> Supplier | None:
        """Find the supplier, or say what to do first."""
        name = str(value or "").strip()
        if not name:
            return None
        found = self.names.find(name)
        if found is None:
            raise ValidationError(
                f"There is no supplier “{name[:60]}”. Store the suppliers first."
            )
        if found.is_archived and found.pk != self.keep:
            raise ValidationError(f"{found} is put aside. Take it up again first.")
        return found


class MaterialRow(ManyRows, MaterialForm):
    """A material of a file, its supplier by name."""

    def __init__(self, *args: Any, suppliers: SupplierNames, **kwargs: Any) -> None:
        """Take suppliers by their names."""
        super().__init__(*args, sees_money=True, **kwargs)
        self.suppliers = suppliers
        self._name_supplier()

    def again(self, row: models.Model) -> Self:
        """Keep that row's supplier, if it was put aside."""
        form = super().again(row)
        form._name_supplier()
        return form

    def _name_supplier(self) -> None:
        keep = self.instance.supplier_id
        self.fields["supplier"] = SupplierNameField(self.suppliers, keep)


class SupplierRow(ManyRows, SupplierForm):
    """A supplier of a file."""


class OperationRow(ManyRows, OperationForm):
    """A kind of work of a file."""


class FinishRow(ManyRows, FinishForm):
    """A finish of a file, which brings its key."""

    class Meta(FinishForm.Meta):
        fields = ("key", *FinishForm.Meta.fields)  # type: ignore[assignment]
