"""What the frozen panels of a job take of each material, in the material's own count."""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from decimal import ROUND_CEILING, Decimal

from jobs.board.codes import runs_of
from jobs.buying.engine import (
    Piece,
    boards_for,
    roll_for,
    sheets_for,
    slabs_for,
)
from jobs.buying.models import NeedSource
from jobs.cutting.adapter import Alike, CannotBeBuiltError
from quotes.pricing.models import PriceRules
from quotes.specs import frozen
from quotes.specs.engine.model import Cloth, Driver, Takeoff
from shared.conventions import current
from shared.length import TICKS_PER_M
from shared.money import show_number
from shop.catalogue.models import Material, MaterialKind, MaterialUnit

TENTH = Decimal("0.1")
THOUSANDTH = Decimal("0.001")
HUNDRED = Decimal(100)


@dataclass(frozen=True, slots=True)
class Needed:
    """So much of a material, and how it came about."""

    quantity: Decimal
    how: str
    source: NeedSource = NeedSource.TAKEOFF


@dataclass(frozen=True, slots=True)
class Terms:
    """What the shop goes by: rules, the saw, each build's own yield, the live materials.

    materials are found by the id that was frozen, or by the code where that id is gone.
    """

    rules: PriceRules
    kerf_ticks: int
    yields: Mapping[str, Decimal | None]
    materials: Mapping[str, Material]

    def find(self, key: str, facts: Mapping[str, object]) -> Material | None:
        """Return the material that a key of the snapshot stands for."""
        return self.materials.get(key) or self.materials.get(str(facts.get("code")))


@dataclass(frozen=True, slots=True)
class Covered:
    """Panels whose parts of a material are in a cut plan, and what they take of it."""

    panels: frozenset[uuid.UUID]
    quantity: Decimal
    how: str


@dataclass(slots=True)
class _Taken:
    """What panels take of one material: pieces, or a count."""

    material: Material
    pieces: list[Piece] = field(default_factory=list)
    each: Decimal = Decimal(0)
    once: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True)
class _Group:
    like: Alike
    takeoff: Takeoff
    terms: Terms
    covered: Mapping[uuid.UUID, Covered]

    def material(self, key: str) -> Material | None:
        return self.terms.find(key, self.like.snapshot["materials"].get(key, {}))

    def count(self, material: Material) -> int:
        """Count the panels that no plan covers for a material."""
        plan = self.covered.get(material.pk)
        done = plan.panels if plan else frozenset()
        return sum(panel.pk not in done for panel in self.like.panels)

    def yield_percent(self) -> Decimal:
        own = self.terms.yields.get(self.takeoff.build_key)
        return self.terms.rules.wood_yield_percent if own is None else own


def needs_of(
    likes: Iterable[Alike],
    terms: Terms,
    covered: Mapping[uuid.UUID, Covered],
) -> tuple[dict[uuid.UUID, Needed], tuple[str, ...]]:
    """Return what a job takes of each material, and names of what could not be counted.

    covered: by material, the panels whose parts a cut plan holds; there the plan counts,
    and the average only for the rest.
    """
    taken: dict[uuid.UUID, _Taken] = {}
    lost: dict[str, None] = {}
    for like in likes:
        takeoff = _takeoff(like)
        if takeoff is None:
            lost[f"what {runs_of(p.code for p in like.panels)} takes"] = None
            continue
        group = _Group(like, takeoff, terms, covered)
        for use in _uses(group):
            material = group.material(use.key)
            if material is None:
                facts = like.snapshot["materials"].get(use.key, {})
                lost[str(facts.get("name") or use.key)] = None
                continue
            row = taken.setdefault(material.pk, _Taken(material))
            use.add_to(row, panels=group.count(material))
    averages = {pk: _amount(each, terms) for pk, each in taken.items()}
    needs = {
        pk: _with_plan(averages.get(pk), covered.get(pk))
        for pk in (*averages, *(pk for pk in covered if pk not in averages))
    }
    return {pk: need for pk, need in needs.items() if need.quantity > 0}, tuple(lost)


def _takeoff(like: Alike) -> Takeoff | None:
    """Take off at the size it is built to; as quoted where that can't be built.

    Nothing where the frozen part can't be read: a panel can be measured all the same.
    """
    with suppress(frozen.FrozenError):
        try:
            return like.takeoff()
        except CannotBeBuiltError:
            return frozen.takeoff_from_json(like.snapshot["takeoff"])
    return None


@dataclass(frozen=True, slots=True)
class _Use:
    """One use of a material in a panel: a piece, or so many; `once` for the whole job."""

    key: str
    piece: Piece | None = None
    amount: Decimal = Decimal(0)
    once: bool = False

    def add_to(self, taken: _Taken, *, panels: int) -> None:
        """Add it for so many panels."""
        if self.piece is not None and panels:
            count = self.piece.count * panels
            taken.pieces.append(replace(self.piece, count=count))
        elif self.once:
            taken.once = max(taken.once, self.amount)
        else:
            taken.each += self.amount * panels


def _uses(group: _Group) -> Iterator[_Use]:
    """Yield each use of a material in one panel of a group."""
    takeoff, share = group.takeoff, group.yield_percent()
    for blank in takeoff.blanks:
        piece = Piece(blank.rip_width_ticks, blank.length_ticks, blank.count, share)
        yield _Use(blank.stock, piece)
    for cloth in takeoff.cloths:
        material = group.material(cloth.material)
        yield _Use(cloth.material, _laid(cloth, material))
    for fill in takeoff.fills:
        size = Piece(fill.width_ticks, fill.height_ticks, fill.count)
        yield _Use(fill.material, size)
    for item in takeoff.items:
        once = item.driver is Driver.JOB
        amount = item.quantity + item.spare
        yield _Use(item.material, amount=amount, once=once)


def _laid(cloth: Cloth, material: Material | None) -> Piece:
    """Lay a cloth the way that takes least of the roll; a seam makes several pieces."""
    usable = _usable(material) if material else 0
    fitting = [lay for lay in cloth.lays if 0 < lay.across_ticks <= usable]
    if not fitting:
        return Piece(cloth.width_ticks, cloth.height_ticks)
    best = min(
        fitting,
        key=lambda lay: Decimal(lay.along_ticks) / (usable // lay.across_ticks),
    )
    return Piece(best.across_ticks, best.along_ticks // best.drops, best.drops)


def _usable(material: Material) -> int:
    return (material.width_ticks or 0) - 2 * (material.selvedge_ticks or 0)


def _amount(taken: _Taken, terms: Terms) -> Needed:
    """Turn pieces into sheets, boards, metres or slabs; counted things into their count."""
    kind, rules = MaterialKind(taken.material.kind), terms.rules
    if not taken.pieces:
        return _counted(taken)
    if kind == MaterialKind.FABRIC:
        return _metres(taken.material, taken.pieces, rules)
    if kind == MaterialKind.BOARD:
        return _boards(taken.material, taken.pieces, terms)
    if kind == MaterialKind.FILL:
        return _slabs(taken.material, taken.pieces, rules)
    return _sheets(taken.material, taken.pieces, rules)


def _counted(taken: _Taken) -> Needed:
    amount = taken.each + taken.once
    whole = taken.material.unit == MaterialUnit.EACH
    step = Decimal(1) if whole else THOUSANDTH
    once = f", {_number(taken.once)} of it once for the job" if taken.once else ""
    how = f"counted on the panels, spares in it{once}"
    return Needed(_up(amount, step), how)


def _sheets(stock: Material, pieces: Sequence[Piece], rules: PriceRules) -> Needed:
    width, length = stock.width_ticks or 1, stock.length_ticks or 1
    count = sheets_for(
        pieces,
        width_ticks=width,
        length_ticks=length,
        waste=rules.wood_waste_percent,
    )
    yields = sorted({piece.yield_percent for piece in pieces})
    share = " and ".join(_number(each) for each in yields)
    how = (
        f"{_area(pieces)} of parts, of a sheet {share} % on average,"
        f" {_number(rules.wood_waste_percent)} % waste"
    )
    return Needed(Decimal(count), how)


def _boards(stock: Material, pieces: Sequence[Piece], terms: Terms) -> Needed:
    rules = terms.rules
    width, length = stock.width_ticks or 1, stock.length_ticks or 1
    count = boards_for(
        pieces,
        width_ticks=width,
        length_ticks=length,
        kerf_ticks=terms.kerf_ticks,
        waste=rules.wood_waste_percent,
    )
    cuts = sum(piece.count for piece in pieces)
    if count is None:
        needed = _sheets(stock, pieces, rules)
        return Needed(needed.quantity, f"{needed.how}; a piece is larger than a board")
    how = (
        f"{cuts} pieces laid out on boards, {_number(rules.wood_waste_percent)} % waste"
    )
    return Needed(Decimal(count), how)


def _metres(stock: Material, pieces: Sequence[Piece], rules: PriceRules) -> Needed:
    usable, spare = _usable(stock), rules.fabric_spare_percent
    length = roll_for(pieces, usable_ticks=usable)
    how = f"{_pieces(sum(p.count for p in pieces))} laid in rows on the roll"
    if length is None:
        areas = sum(piece.area for piece in pieces) * HUNDRED
        length = int(areas / rules.fabric_yield_percent / max(1, usable))
        how = (
            f"{_area(pieces)} by the average yield, for a piece is wider than the roll"
        )
    metres = Decimal(length) / TICKS_PER_M * (HUNDRED + spare) / HUNDRED
    return Needed(_up(metres, TENTH), f"{how}, {_number(spare)} % to spare")


def _slabs(stock: Material, pieces: Sequence[Piece], rules: PriceRules) -> Needed:
    count = slabs_for(
        pieces,
        width_ticks=stock.width_ticks or 1,
        length_ticks=stock.length_ticks or 1,
        waste=rules.fill_waste_percent,
    )
    cuts = sum(piece.count for piece in pieces)
    how = f"{_pieces(cuts)}, {_number(rules.fill_waste_percent)} % waste of the smaller"
    return Needed(Decimal(count), how)


def _with_plan(average: Needed | None, plan: Covered | None) -> Needed:
    """Put what a cut plan takes in place of the average for the panels that it holds."""
    if plan is None:
        return average or Needed(Decimal(0), "")
    if average is None or not average.quantity:
        return Needed(plan.quantity, plan.how, NeedSource.PLAN)
    how = f"{plan.how}; {_number(average.quantity)} for the rest: {average.how}"
    return Needed(plan.quantity + average.quantity, how[:300], NeedSource.PLAN)


def _up(amount: Decimal, step: Decimal) -> Decimal:
    return (amount / step).to_integral_value(ROUND_CEILING) * step


def _pieces(count: int) -> str:
    return "1 piece" if count == 1 else f"{count} pieces"


def _number(value: Decimal | int) -> str:
    return show_number(Decimal(value), locale=current().locale, decimals=2)


def _area(pieces: Iterable[Piece]) -> str:
    total = sum(piece.area for piece in pieces)
    return f"{_number(Decimal(total) / TICKS_PER_M**2)} m²"
