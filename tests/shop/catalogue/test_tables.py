"""Tables as text: what goes out comes in again, and what is no table is told."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.catalogue.engine import TableError, read_table, read_text, write_table
from shop.catalogue.engine.tables import MOST_BYTES, MOST_LINES, guard, unguard

KNOWN = {"code": "", "name": "", "pack_price": "EUR", "width": "mm"}
CELLS = st.text(
    st.one_of(
        st.sampled_from("'=+-@\t\r\n\",;＝ "),
        st.characters(exclude_categories=["Cs"], exclude_characters="\0"),
    ),
    max_size=12,
)


def table(text):
    return read_table(text, known=KNOWN, key="code")


@given(cell=CELLS)
def test_a_guard_comes_off_as_it_went_on(cell):
    assert unguard(guard(cell)) == cell
    assert guard(cell)[:1] not in set("=+-@\t\r\n＝")


@given(
    rows=st.lists(st.tuples(st.text("ab", min_size=1), CELLS, CELLS), min_size=1),
    separator=st.sampled_from(",;\t"),
)
def test_what_is_written_reads_back(rows, separator):
    data = write_table(("code", "name", "width"), rows, separator=separator)
    found = table(read_text(data))
    assert found.columns == ("code", "name", "width")
    assert [tuple(line.cells.values()) for line in found.lines] == rows


@pytest.mark.parametrize(
    "text",
    [
        "code,name\na,Ash\n",
        "name;CODE\r\nAsh;a\r\n",
        "Code\tName\ra\tAsh\r",
        "sep=;\r\nname;code\r\nAsh;a",
        '\n"code","name",,\n\n"a","Ash",,\n,,\n',
        " Pack-price (eur) ,code,name\n1,a,Ash\n",
    ],
    ids=["commas", "semicolons", "tabs", "named", "blanks", "units"],
)
def test_tables_of_many_programs(text):
    (line,) = table(text).lines
    assert (line.cells["code"], line.cells["name"]) == ("a", "Ash")
    assert not line.spare


def test_lines_are_counted_as_an_editor_does():
    found = table('code,name\n\na,"two\nlines"\nb,Beech,more\nc\n')
    assert [line.number for line in found.lines] == [3, 5, 6]
    assert [line.spare for line in found.lines] == [False, True, False]
    assert found.lines[2].cells == {"code": "c", "name": ""}


NO_TABLES = {
    "This file is empty": "\n \n",
    "nothing below": "code,name\n",
    "no column “nam” here. Is “name” meant?": "code,nam\na,b\n",
    "Known are code, name": "code,weight\na,b\n",
    "Column 2 has no title": "code,,name\na,b,c\n",
    "“name” is there twice": "code,name,Name\na,b,c\n",
    "“code” is missing": "name\nAsh\n",
    "says “usd”, and here it takes “EUR”": "code,pack_price (USD)\na,1\n",
    "here it takes no unit": "code,name (kg)\na,1\n",
    "Line 2 can’t be read": 'code,name\na,"open\n',
    "Line 3 can’t be read": 'code,name\nb,x\na,"x"y\n',
    "cell on line 2 is too long": f"code,name\na,{'x' * 2001}\n",
    "cell on line 3 is too long": f'code,name\nb,c\na,"{"x" * 140_000}"\n',
    "Line 1 has too many cells": f"code{',x' * 100_000}\na\n",
    "Line 2 has too many cells": f"code\na{',x' * 200}\n",
    "too many lines: at most 5000": "code\n" + "a\n" * (MOST_LINES + 1),
    "There is no column “((((": f"code,{'(' * 1900}\na,b\n",
    "There is no column “x”": f"code,{' ' * 1900}x{' ' * 90}\na,b\n",
}


@pytest.mark.parametrize("said", NO_TABLES)
def test_what_is_no_table_is_told(said):
    with pytest.raises(TableError) as found:
        table(NO_TABLES[said])
    assert said in found.value.message


def test_many_empty_cells_are_nothing():
    assert table(f"code{',' * 500_000}\na{',' * 500_000}\n").columns == ("code",)


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"x" * (MOST_BYTES + 1), "too large: at most 2 MB"),
        (b"PK\x03\x04anything", "This is a workbook"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1", "This is a workbook"),
        ("code;name".encode("utf-16"), "no UTF-8 text"),
        (b"code\na\0b\n", "no UTF-8 text"),
        ("code\na\nL\u00e4rche\n".encode("latin-1"), "Line 3 has a letter"),
    ],
    ids=["large", "xlsx", "xls", "utf16", "nul", "latin1"],
)
def test_bytes_that_are_no_text_are_told(data, said):
    with pytest.raises(TableError) as found:
        read_text(data)
    assert said in found.value.message


def test_a_file_may_have_its_mark_or_not():
    assert read_text("\ufeffcode".encode()) == read_text(b"code") == "code"
