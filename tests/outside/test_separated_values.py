"""Files of the stores against the papers on separated values. Tolerance 0: it is all text.

[M] RFC 4180, Common Format and MIME Type for CSV Files (2005), section 2, rules 1 to 7, and
its own examples. [M] The Unicode Standard, section 23.8: EF BB BF at the start marks UTF-8.
[CP] What a spreadsheet may take for a formula: a cell that begins with = + - @, tab or
carriage return, as lists on formula injection in CSV have it.
"""

import csv
import io

import pytest

from shop.catalogue.engine import read_table, read_text, write_table

KNOWN = {"aaa": "", "bbb": "", "ccc": ""}

# The RFC's examples, the titles put first. Each says: zzz, yyy, xxx, or what is noted.
RFC_4180 = {
    "rule 1, lines end in CRLF": ("zzz,yyy,xxx\r\n", ("zzz", "yyy", "xxx")),
    "rule 2, the last may not": ("zzz,yyy,xxx", ("zzz", "yyy", "xxx")),
    "rule 4, spaces are part": ("zzz, yyy ,xxx\r\n", ("zzz", " yyy ", "xxx")),
    "rule 5, quoted or not": ('"zzz","yyy",xxx\r\n', ("zzz", "yyy", "xxx")),
    "rule 6, a break inside": ('"zzz","b\r\nbb","xxx"\r\n', ("zzz", "b\r\nbb", "xxx")),
    "rule 7, a quote doubled": ('"zzz","b""bb","xxx"\r\n', ("zzz", 'b"bb', "xxx")),
}


@pytest.mark.parametrize("rule", RFC_4180)
def test_the_examples_of_the_rfc_are_read(rule):
    text, cells = RFC_4180[rule]
    (line,) = read_table(f"aaa,bbb,ccc\r\n{text}", known=KNOWN, key="aaa").lines
    assert tuple(line.cells.values()) == cells


def test_what_is_written_keeps_the_rules():
    rows = [("zzz", "b\r\nbb", 'say "b"'), ("a,b", "", " ")]
    data = write_table(("aaa", "bbb", "ccc"), rows, separator=",")
    assert data.startswith(b"\xef\xbb\xbf")
    text = data[3:].decode()
    assert text == (
        "aaa,bbb,ccc\r\n"  # 1 and 3
        'zzz,"b\r\nbb","say ""b"""\r\n'  # 6 and 7
        '"a,b",, \r\n'  # 6 and 4
    )
    strict = csv.reader(io.StringIO(text, newline=""), strict=True)
    assert {len(row) for row in strict} == {3}  # 4: as many cells on each line


@pytest.mark.parametrize("first", list("=+-@\t\r"), ids=repr)
def test_no_cell_begins_as_a_formula_does(first):
    formula = f"{first}1+cmd|' /C calc'!A0"
    data = write_table(("aaa", "bbb"), [("x", formula)], separator=",")
    cells = list(csv.reader(io.StringIO(read_text(data), newline="")))[1]
    assert cells[1][0] == "'"
    (line,) = read_table(read_text(data), known=KNOWN, key="aaa").lines
    assert line.cells["bbb"] == formula
