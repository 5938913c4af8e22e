"""Tables as separated text (RFC 4180): written for spreadsheets, read with suspicion (pure).

What a spreadsheet would take for a formula goes out behind an apostrophe and loses it on
the way in, so that a cell comes back as it was. Line numbers count from one, as an editor
shows them. Raises ``TableError`` with a sentence for what is no such table.
"""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches

MOST_BYTES = 2_000_000
MOST_LINES = 5_000
MOST_COLUMNS = 100
MOST_IN_CELL = 2_000  # characters
SEPARATORS = (",", ";", "\t")

_FORMULA = re.compile(r"'*[=+\-@\t\r\n＝＋－＠]")
_GUARDED = re.compile(r"'+[=+\-@\t\r\n＝＋－＠]")
_NAMED_SEPARATOR = re.compile(r"sep=([,;\t|])\r?\n", re.IGNORECASE)


class TableError(ValueError):
    """A file that can't be read as a table; says in a sentence what would work."""

    def __init__(self, message: str) -> None:
        self.message = message
        super().__init__(message)


@dataclass(frozen=True, slots=True)
class Line:
    """One line below the titles; ``spare`` when it has more cells than there are titles."""

    number: int
    cells: Mapping[str, str]
    spare: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """The names of the columns that are there, and the lines below."""

    columns: tuple[str, ...]
    lines: tuple[Line, ...]


def guard(cell: str) -> str:
    """Put an apostrophe before what a spreadsheet would take for a formula."""
    return f"'{cell}" if _FORMULA.match(cell) else cell


def unguard(cell: str) -> str:
    """Take off the apostrophe that ``guard`` puts on, and no other."""
    return cell[1:] if _GUARDED.match(cell) else cell


def write_table(
    titles: Sequence[str], rows: Iterable[Sequence[str]], *, separator: str
) -> bytes:
    """Write titles and rows as UTF-8 with its mark, by which spreadsheets know it."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=separator, lineterminator="\r\n")
    writer.writerow(titles)
    writer.writerows([guard(cell) for cell in row] for row in rows)
    return codecs.BOM_UTF8 + out.getvalue().encode()


def read_text(data: bytes) -> str:
    """Turn a file's bytes into text, or say what is the matter with them."""
    if len(data) > MOST_BYTES:
        raise TableError(
            f"This file is too large: at most {MOST_BYTES // 1_000_000} MB. Cut it into"
            " several, each with the titles."
        )
    if data.startswith((b"PK\x03\x04", b"\xd0\xcf\x11\xe0")):
        raise TableError(
            "This is a workbook, not a table of text. In the spreadsheet choose Save as,"
            " and there CSV in UTF-8."
        )
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)) or b"\0" in data:
        raise TableError(
            "There are bytes here that are no UTF-8 text. Save the file as CSV in UTF-8."
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as wrong:
        line = data.count(b"\n", 0, wrong.start) + 1
        raise TableError(
            f"Line {line} has a letter that isn’t written in UTF-8. Save the file as CSV"
            " in UTF-8."
        ) from None


def read_table(text: str, *, known: Mapping[str, str], key: str) -> Table:
    """Read a table whose columns are among the known, in any order.

    ``known`` gives each column's unit, or nothing; ``key`` is the column that has to be
    there. Separated by comma, semicolon or tab, whichever gives the most known titles.
    """
    named = _NAMED_SEPARATOR.match(text)
    body = text[named.end() :] if named else text
    separator = named[1] if named else _separator(body, known)
    lines = _records(body, separator, first=2 if named else 1)
    titles = next(lines, None)
    if titles is None:
        raise TableError(
            "This file is empty. It begins with the titles of its columns."
        )
    columns = _columns(titles[1], known, key)
    found = tuple(_line(number, cells, columns) for number, cells in lines)
    if not found:
        raise TableError("There is nothing below the titles.")
    return Table(columns, found)


def _name_and_unit(title: str) -> tuple[str, str]:
    """Take Pack price (EUR) for pack_price in EUR."""
    plain = unguard(title).strip().casefold()
    name, _, unit = plain.partition("(") if plain.endswith(")") else (plain, "", "")
    return "_".join(re.split(r"[\s_-]+", name.strip())), unit.removesuffix(")").strip()


def _separator(text: str, known: Mapping[str, str]) -> str:
    def names(separator: str) -> int:
        try:
            _, cells = next(_records(text, separator, first=1), (0, []))
        except TableError:
            return -1
        return sum(_name_and_unit(cell)[0] in known for cell in cells)

    return max(SEPARATORS, key=names)  # of equals the first


def _records(
    text: str, separator: str, *, first: int
) -> Iterator[tuple[int, list[str]]]:
    """Give each record that is not blank, with the number of the line it begins on."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    count = 0
    while True:
        number = reader.line_num + first
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as wrong:
            raise TableError(_unread(str(wrong), number)) from None
        if any(cell.strip() for cell in cells):
            count += 1
            _check_size(number, cells, count - 1)
            yield number, cells


def _unread(wrong: str, number: int) -> str:
    if "limit" in wrong:
        return _too_long(number)
    return (
        f"Line {number} can’t be read: a quotation mark in it is never closed, or is not"
        " doubled inside a text."
    )


def _too_long(number: int) -> str:
    return f"A cell on line {number} is too long: at most {MOST_IN_CELL} characters."


def _check_size(number: int, cells: list[str], below: int) -> None:
    if below > MOST_LINES:
        raise TableError(
            f"This file has too many lines: at most {MOST_LINES} below the titles. Cut it"
            " into several, each with the titles."
        )
    if _filled(cells) > MOST_COLUMNS:
        raise TableError(f"Line {number} has too many cells: at most {MOST_COLUMNS}.")
    if any(len(cell) > MOST_IN_CELL for cell in cells):
        raise TableError(_too_long(number))


def _filled(cells: Sequence[str]) -> int:
    """How many cells there are up to the last that holds something."""
    return max((n for n, cell in enumerate(cells, 1) if cell.strip()), default=0)


def _columns(titles: list[str], known: Mapping[str, str], key: str) -> tuple[str, ...]:
    """Return the columns' names, each known, named once, and in our unit."""
    read = [_name_and_unit(title) for title in titles[: _filled(titles)]]
    names = [name for name, _ in read]
    for place, (name, unit) in enumerate(read, 1):
        if not titles[place - 1].strip():
            raise TableError(f"Column {place} has no title.")
        if name not in known:
            raise TableError(_unknown(titles[place - 1].strip(), name, known))
        if names.count(name) > 1:
            raise TableError(f"The column “{name}” is there twice.")
        if unit and unit != known[name].casefold():
            raise TableError(_other_unit(name, unit, known[name]))
    if key not in names:
        raise TableError(f"The column “{key}” is missing: rows are known by it.")
    return tuple(names)


def _unknown(title: str, name: str, known: Mapping[str, str]) -> str:
    near = get_close_matches(name[:60], known, n=1)
    hint = f" Is “{near[0]}” meant?" if near else f" Known are {', '.join(known)}."
    return f"There is no column “{_cut(title)}” here.{hint}"


def _other_unit(name: str, said: str, unit: str) -> str:
    meant = f"“{unit}”" if unit else "no unit"
    return f"The title of “{name}” says “{_cut(said)}”, and here it takes {meant}."


def _cut(title: str, most: int = 60) -> str:
    return title if len(title) <= most else f"{title[:most]}…"


def _line(number: int, cells: list[str], columns: tuple[str, ...]) -> Line:
    """Name the cells; some spreadsheets leave out empty ones at the end."""
    missing = [""] * (len(columns) - len(cells))
    named = dict(zip(columns, map(unguard, cells + missing), strict=False))
    return Line(number, named, spare=_filled(cells) > len(columns))
