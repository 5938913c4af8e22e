"""A shelf to walk along: one row for each material, and for each dye lot of a fabric."""

from __future__ import annotations

import uuid
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from decimal import Decimal

from shop.catalogue.models import Material, StockLevel
from shop.catalogue.reports.stock import quantity_text

MARK = "count-"


@dataclass(frozen=True, slots=True)
class ShelfRow:
    """A material of one dye lot, and how much of it should be there."""

    material: Material
    lot: str
    quantity: Decimal
    name: str
    """The name of its box."""
    is_known: bool = True
    """Whether it was ever counted or moved."""

    @property
    def label(self) -> str:
        """What is counted."""
        return (
            f"{self.material}, dye lot {self.lot}" if self.lot else f"{self.material}"
        )

    @property
    def seen(self) -> str:
        """How much that is, as it goes to the page and comes back."""
        return f"{self.quantity:f}"

    @property
    def should(self) -> str:
        """How much there should be."""
        return quantity_text(self.material, self.quantity)


def shelf(
    materials: Iterable[Material], *, typed: Collection[str] = ()
) -> list[ShelfRow]:
    """Lay out materials in their order, with all their dye lots. One query.

    A box that was typed into stays, whatever happened to its level meanwhile.
    """
    shown = list(materials)
    levels: dict[uuid.UUID, dict[str, StockLevel]] = {m.pk: {} for m in shown}
    for level in StockLevel.objects.of_materials(levels):
        levels[level.material_id][level.lot] = level
    rows = []
    for material in shown:
        own = levels[material.pk]
        plain = f"{MARK}{material.pk.hex}"
        if "" in own or not own or plain in typed:
            left = own[""].quantity if "" in own else Decimal(0)
            rows.append(ShelfRow(material, "", left, plain, is_known="" in own))
        rows += [
            ShelfRow(material, lot, level.quantity, f"{plain}-{level.pk.hex}")
            for lot, level in sorted(own.items())
            if lot
        ]
    return rows


def materials_typed(names: Iterable[str]) -> list[uuid.UUID]:
    """Return the materials whose boxes were sent, each once; nothing for other names."""
    found = {}
    for name in names:
        pk = name.removeprefix(MARK)[:32]
        if (
            name.startswith(MARK)
            and len(pk) == 32
            and set(pk) <= set("0123456789abcdef")
        ):
            found[uuid.UUID(pk)] = True
    return list(found)
