"""The stores as pages show them: what things cost, and what lies there."""

from shop.catalogue.reports.imports import Counts, ShownLine, counts, shown_lines
from shop.catalogue.reports.materials import (
    Figure,
    MaterialRow,
    area_price,
    material_rows,
    size_text,
    unit_price,
)

__all__ = [
    "Counts",
    "Figure",
    "MaterialRow",
    "ShownLine",
    "area_price",
    "counts",
    "material_rows",
    "shown_lines",
    "size_text",
    "unit_price",
]
