"""Cloth: takeoffs, remnants and dye lots turned into what a roll plan is made from."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from decimal import ROUND_UP, Decimal
from typing import Any

from jobs.cutting.adapter.wood import Alike
from jobs.cutting.engine.cloth import (
    ClothPart,
    ClothRequest,
    ClothSource,
    Owner,
    roll_plan_of,
)
from jobs.cutting.models import CutPlan
from quotes.specs import frozen
from quotes.specs.engine.model import Cloth
from quotes.specs.engine.words import ClothRole
from shared.length import TICKS_PER_M, UnitSystem, show_size
from shared.money import minor_exponent, round_money
from shared.nesting.rolls import Lay, RollPlan
from shop.catalogue.models import Material, StockLevel, StockPiece

NO_PRICE = 1000
"""What a metre counts where no price is known: a plan then takes the least length."""

FINEST = Decimal("0.001")
"""What a ledger of metres is kept to."""

REPAIRS = "remnant for repairs"
NAMES = {
    ClothRole.FRONT: "front",
    ClothRole.LINING: "lining",
    ClothRole.BACK: "back",
}


def cloth_parts(
    groups: Iterable[Alike],
    material: str,
    *,
    units: UnitSystem,
    may_turn: bool = False,
    directional: bool = False,
    repair_ticks: int = 0,
) -> tuple[ClothPart, ...]:
    """Return what is cut of one cloth for some panels, the longest first; each kind taken off once.

    Fronts lie all the same way, so that nap and grain run alike on every panel, unless
    they may turn; a cloth with a direction never does. Raises `CannotBeBuiltError`.
    """
    found: dict[tuple[Any, ...], ClothPart] = {}
    for group in groups:
        if material not in group.cloths:
            continue
        build = group.snapshot["build"]
        facts = group.snapshot["materials"].get(material, {})
        for cloth in group.takeoff().cloths:
            if cloth.material == material:
                up = directional or bool(facts.get("directional"))
                part = _part(cloth, build, units, may_turn=may_turn, directional=up)
                owners = tuple(Owner(str(p.pk), part.label) for p in group.panels)
                key = part.key, part.lays, part.may_seam
                before = found.get(key, part)
                found[key] = replace(before, owners=before.owners + owners)
    parts = sorted(
        found.values(), key=lambda p: (-p.height_ticks, -p.width_ticks, p.key)
    )
    repairs = _repairs(repair_ticks, units) if repair_ticks and parts else ()
    return (*_told_apart(parts), *repairs)


def _part(
    cloth: Cloth,
    build: Mapping[str, Any],
    units: UnitSystem,
    *,
    may_turn: bool,
    directional: bool,
) -> ClothPart:
    name = NAMES[cloth.role]
    size = show_size(cloth.width_ticks, cloth.height_ticks, units=units, fraction=64)
    seam = bool(build.get("allow_seam"))
    alike = cloth.role is ClothRole.FRONT and not may_turn
    return ClothPart(
        key=f"{size} {name}",
        label=name,
        width_ticks=cloth.width_ticks,
        height_ticks=cloth.height_ticks,
        lays=_lays(cloth, directional=directional, plain=seam),
        owners=(),
        group="fronts" if alike else "",
        may_seam=seam,
        seam_ticks=int(build.get("seam_ticks", 0)) if seam else 0,
    )


def _lays(cloth: Cloth, *, directional: bool, plain: bool) -> tuple[Lay, ...]:
    """Return the takeoff's lays, by the drop; with `plain` the whole piece as well.

    The real roll may be narrower than what was taken off with: then other drops are
    needed, which the solver works out from the whole piece.
    """
    lays = [
        Lay(lay.across_ticks, lay.along_ticks // lay.drops, lay.turned, lay.drops)
        for lay in cloth.lays
        if not (directional and lay.turned)
    ]
    if plain or not lays:
        width, height = cloth.width_ticks, cloth.height_ticks
        lays.append(Lay(width, height))
        if not directional:
            lays.append(Lay(height, width, turned=True))
    return tuple(dict.fromkeys(lays))


def _told_apart(parts: Sequence[ClothPart]) -> Iterable[ClothPart]:
    """Give parts of one size that may lie in other ways keys of their own."""
    seen: dict[str, int] = {}
    for part in parts:
        seen[part.key] = seen.get(part.key, 0) + 1
        number = seen[part.key]
        yield part if number == 1 else replace(part, key=f"{part.key} ({number})")


def _repairs(side_ticks: int, units: UnitSystem) -> tuple[ClothPart, ...]:
    size = show_size(side_ticks, side_ticks, units=units, fraction=64)
    return (
        ClothPart(
            key=f"{size} {REPAIRS}",
            label=REPAIRS,
            width_ticks=side_ticks,
            height_ticks=side_ticks,
            lays=(Lay(side_ticks, side_ticks),),
            owners=(),
            for_repairs=True,
        ),
    )


def cloth_sources(
    material: Material,
    pieces: Iterable[StockPiece],
    levels: Mapping[str, Decimal],
    *,
    lot: str,
    currency: str,
) -> tuple[tuple[ClothSource, ...], bool]:
    """Return remnants, what lies in the stores by dye lot, and new cloth; whether priced.

    With a dye lot signed for, only cloth of that lot. Remnants cost nothing; what is in
    the stores counts a hair less than new cloth, so that of two plans as long it is used.
    """
    price = _price(material, currency)
    each, width = price or NO_PRICE, material.width_ticks or 0
    selvedge = material.selvedge_ticks or 0
    kept = tuple(
        ClothSource(
            key=f"remnant {piece.code}",
            name=f"remnant {piece.code}",
            width_ticks=piece.width_ticks,
            length_ticks=piece.length_ticks,
            price=0,
            lot=piece.lot,
            piece=str(piece.pk),
        )
        for piece in pieces
        if not lot or piece.lot == lot
    )
    stores = tuple(
        ClothSource(
            key=f"{material.code} {name}".strip() + " in the stores",
            name=f"in the stores{', lot ' + name if name else ''}",
            width_ticks=width,
            length_ticks=int(metres * TICKS_PER_M),
            price=max(1, each - 1),
            lot=name,
            selvedge_ticks=selvedge,
        )
        for name, metres in sorted(levels.items())
        if metres > 0 and (not lot or name == lot)
    )
    new = ClothSource(
        key=material.code,
        name=f"new{', lot ' + lot if lot else ', all of one lot'}",
        width_ticks=width,
        length_ticks=None,
        price=each,
        lot=lot,
        selvedge_ticks=selvedge,
        is_new=True,
    )
    return (*kept, *stores, new), bool(price)


def _price(material: Material, currency: str) -> int:
    """Return the price of a metre in minor units; 0 where there is none."""
    if material.unit_price is None:
        return 0
    rounded = round_money(material.unit_price, currency)
    return int(rounded.scaleb(minor_exponent(currency)))


def levels_of(material: Material) -> dict[str, Decimal]:
    """Return metres by dye lot, less what plans not cut yet take. Two queries."""
    levels = StockLevel.objects.of_materials([material.pk])
    found = {level.lot: level.quantity for level in levels}
    for plan in CutPlan.objects.rolls_to_cut(material):
        for (lot, is_new), metres in metres_of(plan).items():
            if not is_new:
                found[lot] = found.get(lot, Decimal(0)) - metres
    return found


def with_real_roll(request: ClothRequest, width_ticks: int) -> ClothRequest:
    """Return the request with rolls as wide as was measured; remnants have their own width."""
    return replace(
        request,
        sources=tuple(
            each if each.is_piece else replace(each, width_ticks=width_ticks)
            for each in request.sources
        ),
    )


def cloth_request_of(plan: CutPlan) -> ClothRequest:
    """Read back what a plan of cloth was made from."""
    return frozen.read(ClothRequest, plan.request, "request")


def roll_plan(plan: CutPlan) -> RollPlan | None:
    """Read back what the solver found for a plan of cloth, so far."""
    return roll_plan_of(plan.result) if plan.result else None


def cloth_used(request: ClothRequest, found: RollPlan) -> tuple[str, ...]:
    """Return the ids of the remnants that a plan cuts up."""
    sources = [request.source(use.roll) for use in found.rolls]
    return tuple(source.piece for source in sources if source.is_piece)


def metres_of(plan: CutPlan) -> dict[tuple[str, bool], Decimal]:
    """Return the metres that a plan cuts off rolls, by dye lot and whether they are new.

    Remnants are left out; the share for flaws is counted where cloth is to be bought.
    """
    found = roll_plan(plan)
    if found is None:
        return {}
    request, metres = cloth_request_of(plan), dict[tuple[str, bool], Decimal]()
    for use in found.rolls:
        source = request.source(use.roll)
        if not source.is_piece:
            ticks = use.buy_ticks if source.is_new else use.cut_ticks
            key = use.lot, source.is_new
            metres[key] = metres.get(key, Decimal(0)) + Decimal(ticks) / TICKS_PER_M
    return metres


def metres_cut(plan: CutPlan) -> dict[str, Decimal]:
    """Return the metres that go off rolls, by dye lot: new cloth is of the plan's lot."""
    found = roll_plan(plan)
    if found is None:
        return {}
    request, metres = cloth_request_of(plan), dict[str, Decimal]()
    for use in found.rolls:
        if not request.source(use.roll).is_piece:
            lot = use.lot or plan.lot
            cut = Decimal(use.cut_ticks) / TICKS_PER_M
            metres[lot] = metres.get(lot, Decimal(0)) + cut
    return {lot: total.quantize(FINEST, ROUND_UP) for lot, total in metres.items()}
