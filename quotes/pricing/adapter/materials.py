"""What a panel is made of, priced by area, length, roll or count."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from typing import TypeVar

from quotes.pricing import engine
from quotes.pricing.models import PriceRules
from quotes.specs.engine.model import Blank, Cloth, Driver, FillPiece, Takeoff
from quotes.specs.models import BuildSpec
from quotes.specs.reports import PanelGroup
from shop.catalogue.models import Material, MaterialKind, MaterialUnit

T = TypeVar("T")

METRES_PER_TICK = Decimal("0.000003125")
HUNDRED = Decimal(100)
ZERO = Decimal(0)

KINDS = {
    MaterialKind.SHEET: engine.MaterialKind.SHEET,
    MaterialKind.BOARD: engine.MaterialKind.BOARD,
    MaterialKind.FABRIC: engine.MaterialKind.CLOTH,
    MaterialKind.FILL: engine.MaterialKind.FILL,
    MaterialKind.HARDWARE: engine.MaterialKind.HARDWARE,
    MaterialKind.CONSUMABLE: engine.MaterialKind.CONSUMABLE,
}

COUNTED_IN = {
    MaterialUnit.EACH: "pieces",
    MaterialUnit.METRE: "m",
    MaterialUnit.MILLILITRE: "ml",
    MaterialUnit.GRAM: "g",
}
"""How an amount of hardware or a consumable reads."""


def metres(ticks: int) -> Decimal:
    """Turn a length in ticks into metres, exactly."""
    return ticks * METRES_PER_TICK


def used_materials(takeoff: Takeoff) -> Iterator[str]:
    """Yield the key of each material that a panel takes."""
    yield from (blank.stock for blank in takeoff.blanks)
    yield from (cloth.material for cloth in takeoff.cloths)
    yield from (piece.material for piece in takeoff.fills)
    yield from (item.material for item in takeoff.items)


def materials_of(
    takeoff: Takeoff, group: PanelGroup, rules: PriceRules
) -> Iterator[engine.MaterialUse]:
    """Yield everything that is in one panel, each material once."""
    materials, spec = group.worked.materials, group.worked.spec
    for key, blanks in _by_key(takeoff.blanks, "stock"):
        yield _wood(materials[key], blanks, spec, rules)
    for key, cloths in _by_key(takeoff.cloths, "material"):
        yield _cloth(materials[key], cloths, rules)
    for key, fills in _by_key(takeoff.fills, "material"):
        yield _fill(materials[key], fills, rules)
    yield from items_of(takeoff, materials, once=False)


def _by_key(pieces: Iterable[T], field: str) -> Iterable[tuple[str, list[T]]]:
    found: dict[str, list[T]] = {}
    for piece in pieces:
        found.setdefault(getattr(piece, field), []).append(piece)
    return found.items()


def _wood(
    stock: Material, blanks: list[Blank], spec: BuildSpec, rules: PriceRules
) -> engine.MaterialUse:
    """Price wood by area off a sheet, by length off a board."""
    sheet = stock.kind == MaterialKind.SHEET
    own = spec.wood_yield_percent
    length, width = metres(stock.length_ticks or 0), metres(stock.width_ticks or 0)
    return engine.MaterialUse(
        kind=KINDS[MaterialKind(stock.kind)],
        code=stock.code,
        label=stock.name,
        pack_price=stock.pack_price or ZERO,
        pack_amount=stock.pack_quantity * (length * width if sheet else length),
        pieces=tuple(_blank(blank, stock, spec.kerf_ticks) for blank in blanks),
        yield_percent=rules.wood_yield_percent if own is None else own,
        spare_percent=rules.wood_waste_percent,
    )


def _blank(blank: Blank, stock: Material, kerf_ticks: int) -> engine.Piece:
    """Return like strips; of a board, strips that lie side by side share its length."""
    count = Decimal(blank.count)
    if stock.kind == MaterialKind.BOARD:
        room = (stock.width_ticks or 0) + kerf_ticks
        abreast = max(1, room // (blank.rip_width_ticks + kerf_ticks))
        label = blank.label if abreast == 1 else f"{blank.label}, {abreast} abreast"
        return engine.Piece(label, count / abreast, metres(blank.length_ticks))
    return engine.Piece(
        blank.label, count, metres(blank.length_ticks), metres(blank.rip_width_ticks)
    )


def _cloth(
    stock: Material, cloths: list[Cloth], rules: PriceRules
) -> engine.MaterialUse:
    """Price fabric by cut area over the usable width of the roll."""
    usable = (stock.width_ticks or 0) - 2 * (stock.selvedge_ticks or 0)
    return engine.MaterialUse(
        kind=engine.MaterialKind.CLOTH,
        code=stock.code,
        label=stock.name,
        pack_price=stock.pack_price or ZERO,
        pack_amount=stock.pack_quantity,
        pieces=tuple(
            engine.Piece(
                str(cloth.role).capitalize(),
                Decimal(1),
                metres(cloth.height_ticks),
                metres(cloth.width_ticks),
            )
            for cloth in cloths
        ),
        usable_width_m=metres(usable),
        yield_percent=rules.fabric_yield_percent,
        spare_percent=rules.fabric_spare_percent,
    )


def _fill(
    stock: Material, fills: list[FillPiece], rules: PriceRules
) -> engine.MaterialUse:
    """Price fill by the area of its pieces."""
    board = metres(stock.length_ticks or 0) * metres(stock.width_ticks or 0)
    return engine.MaterialUse(
        kind=engine.MaterialKind.FILL,
        code=stock.code,
        label=stock.name,
        pack_price=stock.pack_price or ZERO,
        pack_amount=stock.pack_quantity * board,
        pieces=tuple(
            engine.Piece(
                "Fill",
                Decimal(piece.count),
                metres(piece.height_ticks),
                metres(piece.width_ticks),
            )
            for piece in fills
        ),
        spare_percent=rules.fill_waste_percent,
    )


def items_of(
    takeoff: Takeoff, materials: Mapping[str, Material], *, once: bool
) -> Iterator[engine.MaterialUse]:
    """Yield what is counted: once for the job, or on each panel."""
    for item in takeoff.items:
        if (item.driver is Driver.JOB) is not once:
            continue
        stock = materials[item.material]
        yield engine.MaterialUse(
            kind=KINDS[MaterialKind(stock.kind)],
            code=stock.code,
            label=stock.name,
            pack_price=stock.pack_price or ZERO,
            pack_amount=stock.pack_quantity,
            count=item.quantity,
            noun=COUNTED_IN[MaterialUnit(stock.unit)],
            spare_percent=item.spare * HUNDRED / item.quantity,
        )
