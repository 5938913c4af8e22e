"""The whole form of a build, held together by the takeoff."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Self, cast

from django.db.models import Field
from django.forms import BaseInlineFormSet
from django.forms.boundfield import BoundField
from django.forms.utils import ErrorDict, ErrorList

from quotes.specs import adapter
from quotes.specs.engine.model import TakeoffError
from quotes.specs.forms.build import BuildForm
from quotes.specs.forms.fields import Options
from quotes.specs.forms.rows import (
    MOST_ROWS,
    BraceRows,
    ItemRows,
    OperationRows,
    RowForm,
)
from quotes.specs.models import BuildSpec
from shared.forms import PlainModelForm

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
        _hush(made.build)
        for rows in made.sets:
            _hush(rows)
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


def _hush(form: Any) -> None:
    """Let a form, or a set of rows, look as if all in it were right.

    Django looks for errors once and keeps what it found; there is no public way to say
    that a person is not done typing.
    """
    form.full_clean()
    rows = getattr(form, "forms", None)
    form._errors = ErrorDict() if rows is None else [ErrorDict() for _ in rows]
    for row in rows or ():
        row._errors = ErrorDict()
    if rows is not None:
        form._non_form_errors = ErrorList()


def _kept(rows: BaseInlineFormSet[Any, Any, Any]) -> list[RowForm]:
    return [cast("RowForm", form) for form in rows.forms if not form.is_out]


def row_set_to_grow(data: Any) -> str:
    """Return the set of rows whose button "one more" was pressed, or nothing."""
    asked = str(data.get("more", ""))
    return asked if asked in SETS else ""


def _with_one_more(data: Any, which: str) -> Any:
    """Return what was typed with one row more, filled with what is usual."""
    more = data.copy()
    name = f"{which}-TOTAL_FORMS"
    total = str(more.get(name, ""))
    count = int(total[:4]) if total.isdecimal() else 0
    if count >= MOST_ROWS:
        return more
    more[name] = str(count + 1)
    for column, text in _usual(SETS[which]):
        more[f"{which}-{count}-{column}"] = text
    return more


SETS = {"braces": BraceRows, "items": ItemRows, "operations": OperationRows}


def _usual(rows: Any) -> Iterator[tuple[str, str]]:
    """Give the columns' own defaults as a person would type them."""
    for name in rows.form._meta.fields or ():
        column = rows.model._meta.get_field(name)
        value = column.get_default() if isinstance(column, Field) else None
        if isinstance(value, Decimal | str):
            yield name, str(value)
