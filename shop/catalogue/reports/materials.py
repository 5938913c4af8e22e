"""Materials as pages show them: what one costs and how that comes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from shared.conventions import current
from shared.length import show, show_size
from shared.money import round_money, show_money, show_number
from shared.quantities import AREA
from shop.catalogue.models import Material, MaterialKind
from shop.catalogue.reports.stock import Standing, quantity_text, standing


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure that opens to how it came."""

    label: str
    amount: str
    sums: str = ""
    note: str = ""
    steps: tuple[Figure, ...] = ()


def _price(amount: Decimal) -> str:
    """Print the price of one, with the decimals that small things need."""
    currency, locale = current().currency, current().locale
    if amount >= 1 or round_money(amount, currency) == amount:
        return show_money(amount, currency=currency, locale=locale)
    return f"{show_number(amount, locale=locale, decimals=4)} {currency}"


def unit_price(material: Material) -> Figure | None:
    """Say what one piece, metre or millilitre costs, and how; nothing without a price."""
    each = material.unit_price
    if each is None or material.pack_price is None:
        return None
    held = show_number(material.pack_quantity, locale=current().locale, decimals=3)
    of = material.counted_in
    return Figure(
        label=f"Price of one {of}",
        amount=_price(each),
        sums=f"{_price(material.pack_price)} ÷ {held} = {_price(each)}",
        note="Without tax, as bought. What clients pay comes from the price rules.",
    )


def area_price(material: Material) -> Figure | None:
    """Say what a square metre or foot of a sheet, board or slab costs, and how."""
    each, m2 = material.unit_price, material.face_m2
    if each is None or not m2:
        return None
    unit = AREA.usual
    size = m2 / AREA.factor(unit)
    price = each / size
    shown = show_number(size, locale=current().locale, decimals=3)
    return Figure(
        label=f"Price of one {unit}",
        amount=_price(price),
        sums=f"{_price(each)} ÷ {shown} {unit} = {_price(price)}",
    )


def size_text(material: Material) -> str:
    """Print what a material measures, as far as its kind has a size."""
    units, fraction = current().unit_system, current().fraction
    if material.kind == MaterialKind.FABRIC and material.width_ticks:
        wide = show(material.width_ticks, units=units, fraction=fraction)
        return f"{wide} wide"
    sides = (material.length_ticks, material.width_ticks, material.thickness_ticks)
    if not all(sides):
        return ""
    return show_size(*(s for s in sides if s), units=units, fraction=fraction)


@dataclass(frozen=True, slots=True)
class MaterialRow:
    """A material as the list shows it; nothing of what the person may not see."""

    material: Material
    size: str
    each: str
    hand: str = ""
    free: str = ""
    is_below: bool = False
    is_short: bool = False


def material_rows(
    materials: Iterable[Material], *, sees_money: bool, sees_stock: bool
) -> list[MaterialRow]:
    """Gather rows: prices and stock only for whoever may see them."""
    shown = list(materials)
    stands = standing(m.pk for m in shown) if sees_stock else {}
    return [_row(m, stands.get(m.pk), sees_money=sees_money) for m in shown]


def _row(
    material: Material, stands: Standing | None, *, sees_money: bool
) -> MaterialRow:
    figure = unit_price(material) if sees_money else None
    row = MaterialRow(material, size_text(material), figure.amount if figure else "")
    if not stands or not stands.is_known:
        return row
    return replace(
        row,
        hand=quantity_text(material, stands.on_hand),
        free=quantity_text(material, stands.free),
        is_below=stands.is_below,
        is_short=stands.is_short,
    )
