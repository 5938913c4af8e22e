"""What each line of a file would do to the stores as they are, before anything is stored."""

from __future__ import annotations

import copy
import hashlib
import json
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from django.core.exceptions import NON_FIELD_ERRORS, ValidationError

from shared.conventions import current
from shared.forms import MoneyFormField
from shared.money import HUNDRED, show_number
from shop.catalogue.actions import Looked, Writing
from shop.catalogue.engine import Line, Table
from shop.catalogue.forms.books import Book
from shop.catalogue.forms.columns import ASIDE, NO, YES, Column, choice
from shop.catalogue.forms.rows import ManyRows
from shop.catalogue.models import Effect, ImportLine, Material, MaterialKind

SPARE = (
    "There are more cells here than titles. A text with a comma or semicolon in it stands"
    " in quotation marks."
)
NO_KEY = "Fill this in: the row is known by it."
KIND_STAYS = "The kind stays, since builds rely on it. A new code makes a new material."

Problem = tuple[str, str, str]  # column, sentence, what was in the cell


@dataclass(frozen=True, slots=True)
class Plan:
    """What a file would do: its lines to show, and the rows to store."""

    looked: Looked
    writings: tuple[Writing, ...]

    @property
    def refused(self) -> int:
        """How many lines can't be stored."""
        return sum(line.effect == Effect.REFUSED for line in self.looked.lines)


def plan_import(book: Book, table: Table) -> Plan:
    """Work out every line. As many questions to the database for two as for thousands."""
    reader = _Reader(book)
    read = [reader.line(line) for line in table.lines]
    lines = tuple(line for line, _ in read)
    seen = [[n.number, n.effect, n.key, n.changes, n.problems] for n in lines]
    digest = hashlib.sha256(json.dumps(seen).encode()).hexdigest()
    return Plan(Looked(lines, digest), tuple(w for _, w in read if w))


@dataclass(slots=True)
class _Row:
    """One line on its way: what is there, what it says, and what is wrong with it."""

    line: Line
    row: Any
    stored: Any
    texts: Mapping[str, str]
    problems: list[Problem] = field(default_factory=list)

    def refuse(self, column: str, sentences: Iterable[str]) -> None:
        """Note what is wrong with a cell."""
        typed = self.line.cells.get(column, "")[:200]
        self.problems += [(column, sentence, typed) for sentence in sentences]


class _Reader:
    """Reads lines against the rows of one list, all fetched at once."""

    def __init__(self, book: Book) -> None:
        self.book, self.form = book, book.forms()
        self.made: dict[str, ManyRows] = {}
        self.columns = {column.attr: column for column in book.columns}
        self.asked = book.form.base_fields.keys()
        key = self.columns[book.key].attr
        rows = book.rows()
        self.plain = {getattr(row, key).lower(): row for row in rows}
        self.exact = {getattr(row, key): row for row in rows}
        self.places: dict[Any, int] = {}

    def line(self, line: Line) -> tuple[ImportLine, Writing | None]:
        """Say what one line would do."""
        key = _plain(line.cells[self.book.key])
        stored = self.exact.get(line.cells[self.book.key]) or self._find(key)
        row = copy.copy(stored) if stored else self.book.model()
        made = _Row(line, row, stored, self.book.cells(stored or row))
        self._check_place(made, key)
        if not made.problems and not stored:
            self._set_kind(made)
        differing = [c for c in self.book.columns if self._differs(made, c)]
        if differing and not made.problems:
            self._fill(made, differing)
        return self._judged(made, key, differing)

    def _find(self, key: str) -> Any:
        return self.exact.get(key) or self.plain.get(key.lower())

    def _differs(self, made: _Row, column: Column) -> bool:
        """Whether a line says more of a column than stands there; a key stays as it is."""
        if not made.stored:
            return True
        cell = made.line.cells.get(column.name)
        known = cell is None or column.name == self.book.key
        return not known and cell != made.texts[column.name]

    def _check_place(self, made: _Row, key: str) -> None:
        if made.line.spare:
            made.refuse("", [SPARE])
        if not key:
            made.refuse(self.book.key, [NO_KEY])
            return
        place = made.stored.pk if made.stored else key.lower()
        first = self.places.setdefault(place, made.line.number)
        if first != made.line.number:
            made.refuse(self.book.key, [f"Line {first} is about this one already."])

    def _set_kind(self, made: _Row) -> None:
        """Give a new material its kind, which says what else is asked."""
        if not isinstance(made.row, Material):
            return
        try:
            typed = made.line.cells.get("kind", "")
            made.row.kind = choice(typed, MaterialKind.choices)
        except ValidationError as refused:
            made.refuse("kind", refused.messages)
        made.texts = self.book.cells(made.row)

    def _form(self, row: Any) -> ManyRows:
        """Return the row's form, made once for each kind."""
        kind = getattr(row, "kind", "")
        if kind not in self.made:
            self.made[kind] = self.form(instance=copy.copy(row))
        return self.made[kind].again(row)

    def _fill(self, made: _Row, differing: list[Column]) -> None:
        """Let the page's own form judge the row, and put the file's values on it."""
        form = self._form(made.row)
        for column in self.book.columns:
            told = made.line.cells.get(column.name, "").strip()
            there = told or made.texts[column.name]
            if there and column.attr not in form.fields and column.attr in self.asked:
                form.ask(column.attr)
        typed = {c.attr: self._typed(made, c, form.fields) for c in differing}
        for attr in form.fields.keys() - typed.keys():
            column = self.columns[attr]
            typed[attr] = column.typed(made.texts[column.name])
        form.data, form.is_bound = typed, True
        for attr, sentences in form.errors.items():
            name = "" if attr == NON_FIELD_ERRORS else self.columns[attr].name
            if not any(column == name for column, _, _ in made.problems):
                made.refuse(name, [str(sentence) for sentence in sentences])

    def _typed(self, made: _Row, column: Column, asked: Mapping[str, Any]) -> str:
        """Return what would be typed for a cell; nothing for what can't be, or isn't asked."""
        there = made.texts[column.name]
        cell = made.line.cells.get(column.name, there)
        try:
            if column.attr in asked:
                return column.typed(cell)
            if column.attr == "kind":
                if choice(cell, MaterialKind.choices) != made.row.kind:
                    made.refuse("kind", [KIND_STAYS])
            elif column.name == ASIDE:
                column.typed(cell)
        except ValidationError as refused:
            made.refuse(column.name, refused.messages)
        return ""

    def _judged(
        self, made: _Row, key: str, differing: list[Column]
    ) -> tuple[ImportLine, Writing | None]:
        """Return the line with its effect, and what to store if it is anything."""
        line = ImportLine(
            number=made.line.number,
            key=key[:200],
            name=_name(made),
            effect=Effect.REFUSED,
            problems=made.problems,
        )
        if made.problems:
            return line, None
        aside = self._aside(made)
        changed = self._changed(made, differing)
        line.changes = [_change(made, c) for c in changed]
        if made.stored and not changed and aside is None:
            line.effect = Effect.SAME
            return line, None
        line.effect = Effect.CHANGED if made.stored else Effect.NEW
        if aside is not None:
            line.changes.append([ASIDE, made.texts[ASIDE], YES if aside else NO, ""])
        attrs = tuple(_attname(made.row, c) for c in changed)
        return line, Writing(made.row, made.stored, attrs, aside)

    def _aside(self, made: _Row) -> bool | None:
        """Whether the row is to be put aside or taken up; nothing if it stays."""
        cell = made.line.cells.get(ASIDE)
        wanted = made.texts[ASIDE] if cell is None else cell.strip().casefold() or NO
        return None if wanted == made.texts[ASIDE] else wanted == YES

    def _changed(self, made: _Row, differing: list[Column]) -> list[Column]:
        """Return the columns that change; what only reads otherwise stays as it is."""
        columns = [c for c in self.book.columns if c.name != ASIDE]
        if not made.stored:
            told = {self.book.key, "name", "kind"}
            return [c for c in columns if c.name not in told and c.says(made.row)]
        changed = [
            c
            for c in columns
            if c in differing and c.text(made.row) != c.text(made.stored)
        ]
        for column in columns:
            if column not in changed:
                attname = _attname(made.row, column)
                setattr(made.row, attname, getattr(made.stored, attname))
        return changed


def _plain(key: str) -> str:
    """Write a key as the forms of the pages would store it."""
    return unicodedata.normalize("NFC", " ".join(key.strip().splitlines()))


def _attname(row: Any, column: Column) -> str:
    return str(row._meta.get_field(column.attr).attname)


def _name(made: _Row) -> str:
    """Return what the row is called, and whether it stays put aside."""
    name = str(made.stored or made.line.cells.get("name", "")).strip()[:150]
    stays = made.stored and made.stored.is_archived and ASIDE not in made.line.cells
    return f"{name} (put aside)" if stays else name


def _change(made: _Row, column: Column) -> list[str]:
    """Write one change: column, before, after, and how much a price moves."""
    before = made.texts[column.name] if made.stored else ""
    note = ""
    if made.stored and isinstance(column.field, MoneyFormField):
        note = _moved(getattr(made.stored, column.attr), getattr(made.row, column.attr))
        if column.attr == "pack_price" and note:
            note = _moved_each(made, note)
    return [column.name, before, column.text(made.row), note]


def _moved_each(made: _Row, note: str) -> str:
    """Where the pack changes as well, say how the price of one moves."""
    if made.stored.pack_quantity == made.row.pack_quantity:
        return note
    return f"{_moved(made.stored.unit_price, made.row.unit_price)} for one"


def _moved(before: Decimal | None, after: Decimal | None) -> str:
    """Write how far a price moves, in percent of what it was."""
    if not before or after is None:
        return ""
    moved = (after - before) / before * HUNDRED
    shown = show_number(abs(moved), locale=current().locale, decimals=1)
    return f"{'−' if moved < 0 else '+'}{shown} %"
