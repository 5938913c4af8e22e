"""Sheets: strips ripped along them, then crosscut, for least money."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from shared.nesting.core import Core, Option, Stock
from shared.nesting.dealing import Items
from shared.nesting.effort import Effort, Meter
from shared.nesting.errors import NestingError
from shared.nesting.layouts import Size, layouts, size_of
from shared.nesting.model import Halving, Sheet, SheetJob
from shared.nesting.result import Layout, Plate, SheetPlan
from shared.nesting.resume import Given, resumed
from shared.nesting.search import MORE_DIVES, Start, State, search
from shared.nesting.verdict import digest, scaled, start_of, verdict_on, work_before

SHEET_OF = {
    Halving.WHOLE: "the sheet",
    Halving.LENGTHWISE: "sheets halved lengthwise",
    Halving.ACROSS: "sheets halved across",
}


def plan_sheets(
    job: SheetJob, effort: Effort | None = None, start: SheetPlan | None = None
) -> SheetPlan:
    """Return the cheapest plan found for a job of sheets.

    Sizes in ticks. Strips and pieces fit as on bars: a kerf between every two. A trimming
    rip is used only where it makes the plan cheaper; the bound is about plans with
    it wherever it is allowed. ``start`` is an earlier plan: as much of it as still holds is
    kept unless beaten, and for the very same job the search goes on from its bound, so
    that work can be done in slices. What is cut already has no part in this: where
    a sheet was spoiled, plan a job of the parts still missing and the stock still there.
    Raises ``NestingError`` where the stock runs out.
    """
    effort = effort or Effort()
    meter = Meter(scaled(effort, job.plates_per_sheet))
    items = Items((size_of(part), part.key, part.count) for part in job.parts)
    sheets = _usable(job)
    state = _solve(
        _core(job, sheets, items), meter, _Earlier(job, sheets, items, start)
    )
    if state.plan is None:
        raise NestingError(
            "sheets", "The sheets in stock are not enough for all parts."
        )
    found = layouts(state.core, job, sheets, items, state.plan)
    key = digest(job)
    return SheetPlan(
        layouts=found,
        verdict=verdict_on(
            state,
            bound_class(job),
            job=key,
            before=work_before(start.verdict if start else None, key),
            scale=job.plates_per_sheet,
        ),
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


@dataclass(frozen=True, slots=True)
class _Earlier:
    """An earlier plan, if there is one, to be read for this job."""

    job: SheetJob
    sheets: Sequence[Sheet]
    items: Items[Size]
    plan: SheetPlan | None

    @property
    def is_same_job(self) -> bool:
        return self.plan is not None and self.plan.verdict.job == digest(self.job)

    def start(self, core: Core) -> Start:
        """Return where to begin."""
        if self.plan is None:
            return Start()
        return start_of(
            self.plan.verdict,
            resumed(core, self._given(core, self.plan)),
            digest(self.job),
            self.job.plates_per_sheet,
        )

    def _given(self, core: Core, plan: SheetPlan) -> Iterator[Given]:
        """Yield the plates; two halves lie on one plate where nothing is halved."""
        index_of = {sheet.key: i for i, sheet in enumerate(self.sheets)}
        item_of = {size: i for i, size in enumerate(self.items.sizes)}
        item = {part.key: item_of[size_of(part)] for part in self.job.parts}
        option_of = {(o.item, o.along, o.across): i for i, o in enumerate(core.options)}

        def strips(plate: Plate) -> Iterator[tuple[int, ...]]:
            for strip in plate.strips:
                keys = ((item.get(p.part, -1), *p.size) for p in strip.pieces)
                yield tuple(option_of[key] for key in keys if key in option_of)

        for layout in plan.layouts:
            if layout.sheet not in index_of:
                continue
            index, plates = (
                index_of[layout.sheet],
                [[*strips(p)] for p in layout.plates],
            )
            if self.job.halving is Halving.WHOLE:
                plates = [[strip for plate in plates for strip in plate]]
            for plate in plates:
                yield Given(index, tuple(plate), layout.count)


def _solve(core: Core, meter: Meter, earlier: _Earlier) -> State:
    """Look for a plan without trimming rips first, and keep it unless it costs more."""
    start = earlier.start(core)
    if not core.exact and not earlier.is_same_job:
        plain = replace(core, exact=True)
        part = meter.part(meter.effort.work // 4)
        first = search(plain, part, Start(earlier.start(plain).plan)).plan
        plans = [plan for plan in (first, start.plan) if plan is not None]
        start = replace(start, plan=min(plans, key=core.price, default=None))
    return search(core, meter, start, more_dives=MORE_DIVES)


def _yield(job: SheetJob, sheets: Sequence[Sheet], found: Sequence[Layout]) -> float:
    area = {sheet.key: sheet.length_ticks * sheet.width_ticks for sheet in sheets}
    wanted = sum(p.length_ticks * p.width_ticks * p.count for p in job.parts)
    return wanted / sum(area[layout.sheet] * layout.count for layout in found)
