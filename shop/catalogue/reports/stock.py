"""What lies in the stores, and how much of it is free: each number with how it comes."""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from shared.conventions import current
from shared.money import show_number
from shop.catalogue.models import (
    Material,
    MaterialKind,
    MaterialUnit,
    StockLevel,
    StockMove,
    StockReason,
)
from shop.catalogue.slots import PROMISES, Line, Promised

NONE = Decimal(0)
MINUS = "\N{MINUS SIGN}"
_METRE, _PIECES = ("m", "m"), ("piece", "pieces")
_WORDS = {
    MaterialKind.SHEET: ("sheet", "sheets"),
    MaterialKind.BOARD: ("board", "boards"),
    MaterialKind.FILL: _PIECES,
    MaterialKind.FABRIC: _METRE,
}
_UNITS = {
    MaterialUnit.EACH: _PIECES,
    MaterialUnit.METRE: _METRE,
    MaterialUnit.MILLILITRE: ("ml", "ml"),
    MaterialUnit.GRAM: ("g", "g"),
}


def counted_whole(material: Material) -> bool:
    """Whether only whole ones of it lie in the stores: a part of a sheet is a piece."""
    return _words(material)[0] in {"sheet", "board", "piece"}


def _words(material: Material) -> tuple[str, str]:
    """Give the words for one and for many."""
    return (
        _WORDS.get(MaterialKind(material.kind)) or _UNITS[MaterialUnit(material.unit)]
    )


def unit_words(material: Material) -> str:
    """Say what many of it are called."""
    return _words(material)[1]


def quantity_text(
    material: Material, quantity: Decimal, *, signed: bool = False
) -> str:
    """Print so much of a material in its own count: 3 sheets, −1.25 m."""
    one, many = _words(material)
    number = show_number(abs(quantity), locale=current().locale, decimals=3)
    sign = MINUS if quantity < 0 else "+" if signed else ""
    return f"{sign}{number} {one if abs(quantity) == 1 else many}"


@dataclass(frozen=True, slots=True)
class Standing:
    """What is there of a material, what comes, what is promised, and what that leaves."""

    levels: tuple[StockLevel, ...]
    coming: Promised

    @property
    def on_hand(self) -> Decimal:
        """All dye lots together."""
        return sum((level.quantity for level in self.levels), NONE)

    @property
    def on_order(self) -> Decimal:
        """What was ordered and has not come."""
        return self.coming.on_order

    @property
    def promised(self) -> Decimal:
        """What jobs will take."""
        return self.coming.promised

    @property
    def free(self) -> Decimal:
        """On hand and on order, less what is promised."""
        return self.on_hand + self.on_order - self.promised

    @property
    def is_known(self) -> bool:
        """Whether any was ever counted or moved, or is on order or promised."""
        return bool(self.levels or self.on_order or self.promised)

    @property
    def is_below(self) -> bool:
        """Whether any dye lot stands below nothing."""
        return any(level.quantity < 0 for level in self.levels)

    @property
    def is_short(self) -> bool:
        """Whether nothing is free of what the stores hold or jobs will take."""
        return self.free <= 0 and bool(self.levels or self.promised)


def standing(ids: Iterable[uuid.UUID]) -> dict[uuid.UUID, Standing]:
    """Say of each material how it stands: one query, and those of each promise."""
    wanted = tuple(dict.fromkeys(ids))
    levels: dict[uuid.UUID, list[StockLevel]] = {pk: [] for pk in wanted}
    for level in StockLevel.objects.of_materials(wanted):
        levels[level.material_id].append(level)
    coming = {pk: Promised() for pk in wanted}
    for knows in PROMISES:
        for pk, said in knows(wanted).items():
            if pk in coming:
                coming[pk] += said
    return {pk: Standing(tuple(levels[pk]), coming[pk]) for pk in wanted}


def on_hand(ids: Iterable[uuid.UUID]) -> dict[uuid.UUID, Decimal]:
    """Say how much there is of each material, all dye lots together. One query."""
    found = dict.fromkeys(ids, NONE)
    for level in StockLevel.objects.of_materials(found):
        found[level.material_id] += level.quantity
    return found


def levels_of(material: Material) -> dict[str, Decimal]:
    """Say how much there is of each dye lot; one without a name is the empty one."""
    levels = StockLevel.objects.of_materials((material.pk,))
    return {level.lot: level.quantity for level in levels}


def running_short(ids: Iterable[uuid.UUID]) -> tuple[uuid.UUID, ...]:
    """Return the materials of which nothing is free."""
    return tuple(pk for pk, stands in standing(ids).items() if stands.is_short)


def below_nothing(material: Material) -> str:
    """Say which levels stand below nothing and what to do; nothing while none does."""
    return _below(material, StockLevel.objects.of_materials((material.pk,)))


def _below(material: Material, levels: Iterable[StockLevel]) -> str:
    said = [
        quantity_text(material, level.quantity)
        + (f" of dye lot {level.lot}" if level.lot else "")
        for level in levels
        if level.quantity < 0
    ]
    if not said:
        return ""
    return (
        f"{material} stands below nothing: {', '.join(said)}. More was taken out than was"
        " ever booked in. Count it."
    )


@dataclass(frozen=True, slots=True)
class LevelLine:
    """What is there of one dye lot."""

    lot: str
    amount: str
    is_below: bool


@dataclass(frozen=True, slots=True)
class Part:
    """One of the things that a number is made of."""

    text: str
    amount: str
    url: str = ""


@dataclass(frozen=True, slots=True)
class Number:
    """A number about the stock that opens to how it comes."""

    label: str
    amount: str
    parts: tuple[Part, ...]
    note: str


@dataclass(frozen=True, slots=True)
class StockSheet:
    """What a material's page shows of its stock."""

    levels: tuple[LevelLine, ...]
    numbers: tuple[Number, ...]
    warning: str
    is_short: bool


def stock_sheet(material: Material, *, orders_open: bool) -> StockSheet:
    """Gather how a material stands; ``orders_open``: whether orders may be opened."""
    stands = standing((material.pk,))[material.pk]
    lines = tuple(
        LevelLine(lv.lot, quantity_text(material, lv.quantity), lv.quantity < 0)
        for lv in stands.levels
    )
    return StockSheet(
        levels=lines,
        numbers=_numbers(material, stands, orders_open=orders_open),
        warning=_below(material, stands.levels),
        is_short=stands.is_short,
    )


def _numbers(
    material: Material, stands: Standing, *, orders_open: bool
) -> tuple[Number, ...]:
    def text(quantity: Decimal, *, signed: bool = False) -> str:
        return quantity_text(material, quantity, signed=signed)

    coming = stands.coming
    free = (
        Part("on hand", text(stands.on_hand)),
        Part("on order", text(stands.on_order, signed=True)),
        Part("promised to jobs", text(-stands.promised)),
    )
    return (
        Number(
            "On hand",
            text(stands.on_hand),
            _came_and_went(material),
            "All that came and went, added up. The moves below are the rows of it.",
        ),
        Number(
            "On order",
            text(stands.on_order),
            _parts(material, coming.order_lines, linked=orders_open),
            "Ordered, and not delivered yet."
            if stands.on_order
            else "No order is out.",
        ),
        Number(
            "Promised",
            text(stands.promised),
            _parts(material, coming.job_lines, linked=True),
            "What jobs still need." if stands.promised else "No job waits for it.",
        ),
        Number(
            "Free",
            text(stands.free),
            free,
            "On hand, and on order, less what is promised.",
        ),
    )


def _came_and_went(material: Material) -> tuple[Part, ...]:
    sums = StockMove.objects.sums_by_reason(material)
    return tuple(
        Part(StockReason(why).label, quantity_text(material, total, signed=True))
        for why, total in sums.items()
    )


def _parts(
    material: Material, lines: Iterable[Line], *, linked: bool
) -> tuple[Part, ...]:
    return tuple(
        Part(
            line.text,
            quantity_text(material, line.quantity),
            line.url if linked else "",
        )
        for line in lines
    )


@dataclass(frozen=True, slots=True)
class MoveLine:
    """A row of the ledger as a page shows it."""

    move: StockMove
    amount: str
    undone_by: str
    may_undo: bool


def move_lines(
    material: Material, moves: Iterable[StockMove], *, for_person: uuid.UUID | None
) -> tuple[MoveLine, ...]:
    """Lay out moves; ``for_person`` may undo only their own, nobody in it any.

    One query more: what was counted since stands, and is not undone past the count.
    """
    counted = StockMove.objects.last_counts(material)
    return tuple(
        MoveLine(
            move=move,
            amount=quantity_text(material, move.quantity, signed=True),
            undone_by=_undone_by(move),
            may_undo=not move.undoes_id
            and not _undone_by(move)
            and (for_person is None or move.by_id == for_person)
            and move.created_at >= counted.get(move.lot, move.created_at),
        )
        for move in moves
    )


def _undone_by(move: StockMove) -> str:
    counter = getattr(move, "undone_by", None)
    return str(counter.by) if counter else ""
