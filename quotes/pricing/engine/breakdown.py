"""The quote's cost and margin, line by line added up: for owner and office."""

from collections.abc import Callable, Iterable, Sequence

from quotes.pricing.engine.costing import UnitCost
from quotes.pricing.engine.demand import MaterialKind, Stage
from quotes.pricing.engine.figures import (
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
from quotes.pricing.engine.results import (
    Breakdown,
    KindMaterials,
    PricedLine,
    StageLabour,
    Totals,
)

Picker = Callable[[UnitCost], Iterable[Figure]]


def break_down(lines: Sequence[PricedLine], totals: Totals) -> Breakdown:
    """Add up the costs under the lines and set them against the net price."""
    by_kind, by_stage = _by_kind(lines), _by_stage(lines)
    materials = add("Materials", tuple(item.money for item in by_kind))
    labour = add("Labour", tuple(item.money for item in by_stage))
    minutes = tuple(item.minutes for item in by_stage)
    travel = _collect("Travel", lines, lambda cost: _maybe(cost.travel))
    overhead = _collect("Overhead", lines, lambda cost: _maybe(cost.overhead))
    other = _collect("Other cost", lines, _bare)
    cost = add("Cost", (materials, labour, travel, overhead, other))
    margin = subtract("Margin", mention(totals.net), cost)
    share = None
    if totals.net.value:
        share = combine("Margin", Op.SHARE, (margin, mention(totals.net)), Unit.PERCENT)
    return Breakdown(
        by_kind=by_kind,
        materials=materials,
        by_stage=by_stage,
        minutes=add("Labour time", minutes, Unit.MINUTES),
        labour=labour,
        travel=travel,
        overhead=overhead,
        other=other,
        cost=cost,
        price=totals.net,
        margin=margin,
        margin_percent=share,
    )


def _by_kind(lines: Sequence[PricedLine]) -> tuple[KindMaterials, ...]:
    """Return the material cost of each kind that is used, in the kinds' order."""
    found = []
    for kind in MaterialKind:
        money = _collect(kind.value.capitalize(), lines, _materials_of(kind))
        if money.parts:
            found.append(KindMaterials(kind, money))
    return tuple(found)


def _by_stage(lines: Sequence[PricedLine]) -> tuple[StageLabour, ...]:
    """Return minutes and money of each stage that has work, in the stages' order."""
    found = []
    for stage in Stage:
        name = stage.value.capitalize()
        minutes = _collect(name, lines, _minutes_of(stage), Unit.MINUTES)
        if minutes.parts:
            money = _collect(name, lines, _money_of(stage))
            found.append(StageLabour(stage, minutes, money))
    return tuple(found)


def _collect(
    label: str, lines: Sequence[PricedLine], pick: Picker, unit: Unit = Unit.MONEY
) -> Figure:
    """Return the sum of what is picked from each line's unit cost × its quantity."""
    parts = []
    for line in lines:
        picked = tuple(pick(line.cost)) if line.cost else ()
        if not picked:
            continue
        one = picked[0] if len(picked) == 1 else add(label, picked, unit)
        count = given("quantity", line.quantity, Unit.COUNT)
        parts.append(times(line.label, count, one, unit=unit))
    return add(label, tuple(parts), unit)


def _materials_of(kind: MaterialKind) -> Picker:
    return lambda cost: [use.money for use in cost.materials if use.kind is kind]


def _minutes_of(stage: Stage) -> Picker:
    return lambda cost: [item.minutes for item in cost.work if item.stage is stage]


def _money_of(stage: Stage) -> Picker:
    return lambda cost: [item.money for item in cost.work if item.stage is stage]


def _maybe(figure: Figure | None) -> tuple[Figure, ...]:
    return () if figure is None else (figure,)


def _bare(cost: UnitCost) -> tuple[Figure, ...]:
    """Return the cost of a line that is one given sum, with no parts of its own."""
    return (cost.total,) if cost.total.is_given else ()
