"""What one of anything costs the shop: materials, work, travel, overhead."""

from dataclasses import dataclass
from decimal import Decimal

from quotes.pricing.engine.demand import (
    COUNTED_KINDS,
    DistanceUnit,
    MaterialKind,
    MaterialUse,
    Piece,
    Stage,
    Travel,
    Work,
)
from quotes.pricing.engine.figures import (
    HUNDRED,
    Figure,
    Op,
    Unit,
    add,
    combine,
    given,
    mention,
    subtract,
    times,
)
from quotes.pricing.engine.rules import Allowance, AllowanceKind, Overhead, OverheadKind

WHOLE = given("the whole", HUNDRED, Unit.PERCENT)
RETURN_TRIP = given("there and back", Decimal(2), Unit.COUNT, noun="ways")
BASIS_UNITS = {
    MaterialKind.SHEET: Unit.SQUARE_METRES,
    MaterialKind.BOARD: Unit.METRES,
    MaterialKind.CLOTH: Unit.METRES,
    MaterialKind.FILL: Unit.SQUARE_METRES,
    MaterialKind.HARDWARE: Unit.COUNT,
    MaterialKind.CONSUMABLE: Unit.COUNT,
}
"""The unit each kind of material is bought in."""
DISTANCE_UNITS = {
    DistanceUnit.KILOMETRES: Unit.KILOMETRES,
    DistanceUnit.MILES: Unit.MILES,
}


@dataclass(frozen=True, slots=True)
class MaterialCost:
    """One material of a line: how much is bought for it, and for how much."""

    kind: MaterialKind
    code: str
    amount: Figure
    money: Figure


@dataclass(frozen=True, slots=True)
class WorkCost:
    """One operation of a line: its minutes, allowance included, and its money."""

    stage: Stage
    code: str
    minutes: Figure
    money: Figure


@dataclass(frozen=True, slots=True)
class UnitCost:
    """What one of a line costs: the parts, and the total with overhead.

    `travel` is kilometres and mileage alone; time on the road is work.
    """

    materials: tuple[MaterialCost, ...]
    work: tuple[WorkCost, ...]
    travel: Figure | None
    overhead: Figure | None
    total: Figure


def unit_cost(
    label: str,
    *,
    materials: tuple[MaterialCost, ...] = (),
    work: tuple[WorkCost, ...] = (),
    travel: Figure | None = None,
    overhead: Overhead,
) -> UnitCost:
    """Add up the direct costs and the overhead on them."""
    direct = _direct(materials, work, travel)
    over = _overhead(direct, work, overhead)
    parts = direct if over is None else (*direct, over)
    return UnitCost(materials, work, travel, over, add(f"Cost of {label}", parts))


def material_cost(use: MaterialUse) -> MaterialCost:
    """Price one material: net amount ÷ yield × spare × price in its own unit."""
    unit = BASIS_UNITS[use.kind]
    amount = _bought(use, _net_amount(use), unit)
    price = combine(
        f"Price of {use.label}",
        Op.QUOTIENT,
        (
            given("a pack", use.pack_price, Unit.MONEY),
            given("a pack holds", use.pack_amount, unit, noun=use.noun),
        ),
        Unit.MONEY,
        per=unit,
    )
    return MaterialCost(use.kind, use.code, amount, times(use.label, amount, price))


def work_cost(work: Work, allowance: Allowance) -> WorkCost:
    """Price one operation: drivers × minutes each (× allowance) × hourly rate.

    Normal time is observed time × rating. Standard time is normal × (1 + A) where
    the allowance A is a share of work, normal ÷ (1 - A) where it is a share of the
    shift (time standards, FACTS-materials section 9).
    """
    parts = [
        given(work.label, work.count, Unit.COUNT, noun=work.noun),
        given("each", work.minutes_each, Unit.MINUTES),
    ]
    if work.rating_percent != HUNDRED:
        parts.append(given("pace", work.rating_percent, Unit.PERCENT))
    rate = given("hourly rate", work.hourly_rate, Unit.MONEY, per=Unit.HOURS)
    minutes = _allowed(work.label, tuple(parts), allowance, Unit.MINUTES)
    money = _allowed(work.label, (*parts, rate), allowance, Unit.MONEY)
    return WorkCost(work.stage, work.code, minutes, money)


def travel_cost(travel: Travel) -> Figure | None:
    """Price the distance: one way × 2 × trips × what a kilometre or mile costs."""
    if not travel.distance or not travel.cost_per_distance:
        return None
    unit = DISTANCE_UNITS[travel.unit]
    return times(
        "Distance",
        given("one way", travel.distance, unit),
        RETURN_TRIP,
        given("trips", travel.trips, Unit.COUNT, noun="trips"),
        given("cost", travel.cost_per_distance, Unit.MONEY, per=unit),
    )


def travel_work(travel: Travel) -> tuple[WorkCost, ...]:
    """Price the time on the road, which no allowance is added to."""
    if not travel.minutes_each_way:
        return ()
    parts = (
        given("one way", travel.minutes_each_way, Unit.MINUTES),
        RETURN_TRIP,
        given("trips", travel.trips, Unit.COUNT, noun="trips"),
        given("people", travel.people, Unit.COUNT, noun="people"),
    )
    rate = given("hourly rate", travel.hourly_rate, Unit.MONEY, per=Unit.HOURS)
    minutes = times("Time on the road", *parts, unit=Unit.MINUTES)
    money = times("Time on the road", *parts, rate)
    return (WorkCost(Stage.TRAVEL, "travel", minutes, money),)


def _direct(
    materials: tuple[MaterialCost, ...],
    work: tuple[WorkCost, ...],
    travel: Figure | None,
) -> tuple[Figure, ...]:
    parts = []
    if materials:
        parts.append(add("Materials", tuple(use.money for use in materials)))
    if work:
        parts.append(add("Labour", tuple(item.money for item in work)))
    if travel is not None:
        parts.append(travel)
    return tuple(parts)


def _overhead(
    direct: tuple[Figure, ...], work: tuple[WorkCost, ...], overhead: Overhead
) -> Figure | None:
    if overhead.kind is OverheadKind.NONE or not overhead.value:
        return None
    if overhead.kind is OverheadKind.SHARE_OF_COST:
        share = given("overhead", overhead.value, Unit.PERCENT)
        base = add("Direct cost", tuple(mention(part) for part in direct))
        return times("Overhead", base, share)
    minutes = add("Labour time", tuple(item.minutes for item in work), Unit.MINUTES)
    rate = given("overhead", overhead.value, Unit.MONEY, per=Unit.HOURS)
    return times("Overhead", minutes, rate)


def _net_amount(use: MaterialUse) -> Figure:
    """Return what one panel holds: area, length, roll metres or count."""
    if use.kind in COUNTED_KINDS:
        return given(use.label, use.count, Unit.COUNT, noun=use.noun)
    unit = Unit.METRES if use.kind is MaterialKind.BOARD else Unit.SQUARE_METRES
    pieces = tuple(_piece(piece, unit) for piece in use.pieces)
    net = pieces[0] if len(pieces) == 1 else add(f"{use.label}, net", pieces, unit)
    if use.usable_width_m is None or use.kind is not MaterialKind.CLOTH:
        return net
    width = given("usable width", use.usable_width_m, Unit.METRES)
    return combine(f"{use.label} off the roll", Op.QUOTIENT, (net, width), Unit.METRES)


def _piece(piece: Piece, unit: Unit) -> Figure:
    parts = [
        given("pieces", piece.count, Unit.COUNT),
        given("length", piece.length_m, Unit.METRES),
    ]
    if unit is Unit.SQUARE_METRES and piece.width_m is not None:
        parts.insert(1, given("width", piece.width_m, Unit.METRES))
    return times(piece.label, *parts, unit=unit)


def _bought(use: MaterialUse, net: Figure, unit: Unit) -> Figure:
    """Return what must be bought for the net amount: over yield, with spares."""
    if use.yield_percent != HUNDRED:
        good = given("average yield", use.yield_percent, Unit.PERCENT)
        net = combine(f"{use.label} over yield", Op.QUOTIENT, (net, good), unit)
    if not use.spare_percent:
        return net
    spare = given("waste and spare", use.spare_percent, Unit.PERCENT)
    share = add("with spare", (WHOLE, spare), Unit.PERCENT)
    return times(f"{use.label} with spare", net, share, unit=unit)


def _allowed(
    label: str, parts: tuple[Figure, ...], allowance: Allowance, unit: Unit
) -> Figure:
    """Multiply the parts and put the allowance on."""
    if not allowance.percent:
        return times(label, *parts, unit=unit)
    rest = given("rest and delay", allowance.percent, Unit.PERCENT)
    if allowance.kind is AllowanceKind.OF_WORK:
        share = add("with allowance", (WHOLE, rest), Unit.PERCENT)
        return times(label, *parts[:2], share, *parts[2:], unit=unit)
    share = subtract("working part", WHOLE, rest, unit=Unit.PERCENT)
    work = times("before allowance", *parts, unit=unit)
    return combine(label, Op.QUOTIENT, (work, share), unit)
