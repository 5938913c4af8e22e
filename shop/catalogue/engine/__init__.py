"""Published sound absorption that comes with the program; tables as text (pure)."""

from shop.catalogue.engine.finishes import BANDS_HZ, FINISHES, SOURCES, KnownFinish
from shop.catalogue.engine.tables import (
    Line,
    Table,
    TableError,
    read_table,
    read_text,
    write_table,
)

__all__ = [
    "BANDS_HZ",
    "FINISHES",
    "SOURCES",
    "KnownFinish",
    "Line",
    "Table",
    "TableError",
    "read_table",
    "read_text",
    "write_table",
]
