"""Sheets: strips ripped along them, then crosscut, for least money."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from shared.nesting.core import Core, Option, Stock
from shared.nesting.dealing import Items
from shared.nesting.effort import Effort, Meter
from shared.nesting.errors import NestingError
from shared.nesting.layouts import Size, layouts, size_of
from shared.nesting.model import Halving, Sheet, SheetJob
from shared.nesting.result import Layout, SheetPlan
from shared.nesting.search import State, search
from shared.nesting.verdict import verdict_on

SHEET_OF = {
    Halving.WHOLE: "the sheet",
    Halving.LENGTHWISE: "sheets halved lengthwise",
    Halving.ACROSS: "sheets halved across",
}


def plan_sheets(job: SheetJob, effort: Effort | None = None) -> SheetPlan:
    """Return the cheapest plan found for a job of sheets.

    Sizes in ticks. Strips and pieces fit as on bars: a kerf between every two. A trimming
    rip is used only where it makes the plan cheaper; the bound is about plans with
    it wherever it is allowed. Raises ``NestingError`` where the stock runs out.
    """
    meter = Meter(effort or Effort())
    items = Items((size_of(part), part.key, part.count) for part in job.parts)
    sheets = _usable(job)
    state = _solve(_core(job, sheets, items), meter)
    if state.plan is None:
        raise NestingError(
            "sheets", "The sheets in stock are not enough for all parts."
        )
    found = layouts(state.core, job, sheets, items, state.plan)
    return SheetPlan(
        layouts=found,
        verdict=verdict_on(state, bound_class(job), scale=job.plates_per_sheet),
        yield_share=_yield(job, sheets, found),
    )


def bound_class(job: SheetJob) -> str:
    """Say which plans a lower bound is about."""
    sheet = SHEET_OF[job.halving]
    rips = f"plans that rip strips along {sheet}, then crosscut them"
    return f"{rips}, then may rip a piece narrower" if job.may_trim_strips else rips


def _usable(job: SheetJob) -> list[Sheet]:
    """Return the sheets that some part fits."""
    ways = [way for part in job.parts for way in part.ways()]

    def holds_one(sheet: Sheet) -> bool:
        length, width = job.plate_of(sheet)
        return any(along <= length and across <= width for along, across, _ in ways)

    return [s for s in job.sheets if s.available != 0 and holds_one(s)]


def _core(job: SheetJob, sheets: Sequence[Sheet], items: Items[Size]) -> Core:
    stocks = []
    for sheet in sheets:
        length, width = job.plate_of(sheet)
        many = sheet.available
        limit = None if many is None else many * job.plates_per_sheet
        stocks.append(Stock(length, width, sheet.price, limit, job.plates_per_sheet))
    options = [
        option
        for item, (length, width, may_turn) in enumerate(items.sizes)
        for option in _ways(item, length, width, may_turn=may_turn)
        if any(option.along <= s.length and option.across <= s.width for s in stocks)
    ]
    options.sort(key=lambda o: (o.across, o.along, o.item))
    return Core(
        options=tuple(options),
        demand=items.demand,
        stocks=tuple(stocks),
        kerf=job.kerf_ticks,
        exact=not job.may_trim_strips,
    )


def _ways(item: int, length: int, width: int, *, may_turn: bool) -> list[Option]:
    ways = [Option(item, length, width, turned=False)]
    if may_turn and length != width:
        ways.append(Option(item, width, length, turned=True))
    return ways


def _solve(core: Core, meter: Meter) -> State:
    """Look for a plan without trimming rips first, and keep it unless it costs more."""
    if core.exact:
        return search(core, meter)
    plain = replace(core, exact=True)
    part = meter.part(meter.effort.work // 4)
    first = search(plain, part)
    meter.spend(part.steps)
    return search(core, meter, first.plan)


def _yield(job: SheetJob, sheets: Sequence[Sheet], found: Sequence[Layout]) -> float:
    area = {sheet.key: sheet.length_ticks * sheet.width_ticks for sheet in sheets}
    wanted = sum(p.length_ticks * p.width_ticks * p.count for p in job.parts)
    return wanted / sum(area[layout.sheet] * layout.count for layout in found)
