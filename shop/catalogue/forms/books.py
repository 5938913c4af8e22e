"""The four lists of the stores as files: their columns, their key, their rows in order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from babel.numbers import get_decimal_symbol
from django.db import models

from shared.conventions import current
from shop.catalogue.engine import Table, read_table, write_table
from shop.catalogue.forms.columns import ASIDE, KIND, Column, columns_of
from shop.catalogue.forms.rows import (
    FinishRow,
    ManyRows,
    MaterialRow,
    OperationRow,
    SupplierNames,
    SupplierRow,
)
from shop.catalogue.forms.stores import FIELDS_OF
from shop.catalogue.models import (
    Finish,
    ImportedList,
    Material,
    Operation,
    Supplier,
)

FormOf = Callable[..., ManyRows]
_BLANK = Material()


@dataclass(frozen=True, slots=True)
class Book:
    """One list of the stores as a file."""

    model: type[Material] | type[Supplier] | type[Operation] | type[Finish]
    key: str
    columns: tuple[Column, ...]
    form: type[ManyRows]

    @property
    def units(self) -> dict[str, str]:
        """The unit that each column's title may say."""
        return {column.name: column.unit for column in self.columns}

    @property
    def titles(self) -> list[str]:
        """What stands above the columns."""
        return [column.title for column in self.columns]

    def rows(self) -> list[Any]:
        """Every row, those put aside too, in an order that stays. One query."""
        found: models.QuerySet[Any] = self.model.objects.order_by(self.key, "pk")
        if self.model is Material:
            found = found.select_related("supplier")
        return list(found)

    def cells(self, row: models.Model) -> dict[str, str]:
        """Write one row; what is not asked of its kind stays empty unless it is there."""
        texts = {column.name: column.text(row) for column in self.columns}
        if isinstance(row, Material):
            asked = FIELDS_OF.get(row.kind, ())
            for column in self.columns:
                usual = column.text(_BLANK) == texts[column.name]
                if column.attr not in (*asked, "kind", "is_archived") and usual:
                    texts[column.name] = ""
        return texts

    def write(self) -> bytes:
        """Write the whole list, with the separator that goes with the shop's decimals."""
        comma = get_decimal_symbol(current().locale) == ","
        rows = (list(self.cells(row).values()) for row in self.rows())
        return write_table(self.titles, rows, separator=";" if comma else ",")

    def read(self, text: str) -> Table:
        """Read such a list, in any order of columns; raises ``TableError``."""
        return read_table(text, known=self.units, key=self.key)

    def forms(self) -> FormOf:
        """Return what makes the form of one row, given data and instance."""
        if self.model is not Material:
            return self.form
        names = SupplierNames(Supplier.objects.all())
        return lambda *args, **kwargs: self.form(*args, suppliers=names, **kwargs)


BOOKS = {
    ImportedList.MATERIALS: Book(
        Material, "code", columns_of(MaterialRow, KIND), MaterialRow
    ),
    ImportedList.SUPPLIERS: Book(
        Supplier, "name", columns_of(SupplierRow), SupplierRow
    ),
    ImportedList.OPERATIONS: Book(
        Operation, "code", columns_of(OperationRow), OperationRow
    ),
    ImportedList.FINISHES: Book(Finish, "key", columns_of(FinishRow), FinishRow),
}
"""By the name of the list."""

__all__ = ["ASIDE", "BOOKS", "KIND", "Book", "Column", "FormOf"]
