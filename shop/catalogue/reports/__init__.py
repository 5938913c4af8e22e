"""The stores as pages show them: what things cost, and what lies there."""

from shop.catalogue.reports.materials import (
    Figure,
    MaterialRow,
    area_price,
    material_row,
    size_text,
    unit_price,
)

__all__ = [
    "Figure",
    "MaterialRow",
    "area_price",
    "material_row",
    "size_text",
    "unit_price",
]
