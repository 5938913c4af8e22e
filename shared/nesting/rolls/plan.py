"""The entry: the cheapest plan of fabric on rolls, with what it is worth."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from shared.nesting.effort import Effort, Meter
from shared.nesting.errors import NestingError
from shared.nesting.result import Verdict
from shared.nesting.rolls.bounds import Relaxation
from shared.nesting.rolls.build import Builder
from shared.nesting.rolls.dive import Descent
from shared.nesting.rolls.kept import resumed
from shared.nesting.rolls.laying import lay_down
from shared.nesting.rolls.least import area_cost, bound_of
from shared.nesting.rolls.lots import Rolls, lots_of, narrower, sequences
from shared.nesting.rolls.model import Laying, Roll, RollJob
from shared.nesting.rolls.result import RollPlan, RollUse
from shared.nesting.rolls.search import Found, Hunt
from shared.nesting.rolls.table import (
    Kind,
    Table,
    Variant,
    kinds_of,
    table_of,
    variants,
)

ENGINE_VERSION = "1"
ANY = "any way of laying the pieces down, even one that no straight cuts part"
IN_ROWS = "plans in rows, each piece alone between its row's two ends"
NAMED = 4  # pieces named in a refusal


def plan_rolls(
    job: RollJob, effort: Effort | None = None, start: RollPlan | None = None
) -> RollPlan:
    """Return the cheapest plan found for a job of rolls, the shortest of those.

    Lengths in ticks. The cost is of the length cut, trimmed ends included and the spare not.
    ``start`` is an earlier plan of this very job: it is kept unless beaten, and the
    search goes on from it and its bound, so that work can be done in slices. Raises ``NestingError`` where the rolls, or those of any one dye lot, are not enough.
    """
    campaign = Campaign(job, Meter(effort or Effort()), start)
    campaign.run()
    best = campaign.best
    if best is None or best.hunt.best is None:
        raise NestingError("rolls", campaign.shortage())
    uses = lay_down(best.table, best.variant, best.hunt.best)
    return RollPlan(
        rolls=uses,
        verdict=campaign.verdict(best.hunt.best),
        yield_share=_yield(uses),
        warnings=tuple(_warnings(job, uses)),
    )


def digest(job: RollJob) -> str:
    """Return a short text that equal jobs share, under this version of the engine."""
    return hashlib.sha256(f"{ENGINE_VERSION} {job!r}".encode()).hexdigest()[:16]


@dataclass(slots=True)
class Candidate:
    """One lot with one choice of lays: its search and its bound."""

    variant: Variant
    table: Table
    hunt: Hunt
    bound: int
    seamed: int  # pieces that are sewn of drops


class Campaign:
    """The search over lots and choices."""

    def __init__(self, job: RollJob, meter: Meter, start: RollPlan | None) -> None:
        """Begin on every lot that the job could be cut from."""
        self._job, self._meter = job, meter
        is_same = start is not None and start.verdict.job == digest(job)
        self._start = start if is_same else None
        self._before = self._start.verdict if self._start else None
        self._slice = self._before.dives + 1 if self._before else 0
        self._candidates: list[Candidate] = []
        self._misfits: list[Rolls] = []
        self._floor: int | None = None  # where not every choice of lays is tried
        for rolls in lots_of(job):
            self._enter(rolls)

    def _enter(self, rolls: Rolls) -> None:
        """Write down the choices of a lot: with fewer seams first, until a plan is found."""
        kinds = kinds_of(self._job, rolls)
        tried: list[Variant] = []
        for part in narrower(rolls):
            chosen, complete = variants(self._job, part)
            new = [variant for variant in chosen if variant not in tried]
            tried += new
            mine = [self._begun(kinds, variant) for variant in new]
            if new and not complete:
                self._lower(rolls, new[0])
            if any(candidate.hunt.best for candidate in mine):
                break
        if not tried:
            self._misfits.append(rolls)

    def _begun(self, kinds: Sequence[Kind], variant: Variant) -> Candidate:
        """Return a candidate with its first plan, if the rolls are enough for one."""
        table = table_of(self._job, kinds, variant)
        hunt = Hunt(table, self._job.laying, self._meter, seed=self._slice)
        bound = bound_of(table, area_cost(table))
        hunt.begin(sequences(table), bound)
        if self._start:
            hunt.offer(resumed(table, variant, self._start))
        candidate = Candidate(variant, table, hunt, bound, _seamed(self._job, variant))
        self._candidates.append(candidate)
        self._tell()
        return candidate

    def _lower(self, rolls: Rolls, variant: Variant) -> None:
        """Keep a bound by area alone for choices that are too many to try."""
        bare = replace(self._job, gap_ticks=0, repeat_ticks=None)
        table = table_of(bare, kinds_of(bare, rolls), variant)
        floor = bound_of(table, area_cost(table))
        self._floor = floor if self._floor is None else min(floor, self._floor)

    @property
    def best(self) -> Candidate | None:
        """Return the candidate with the best plan, if there is any."""
        some = [c for c in self._candidates if c.hunt.best is not None]
        return min(some, key=_rank, default=None)

    @property
    def bound(self) -> int:
        """Return what no plan with as few seams costs less than."""
        bounds = [candidate.bound for candidate in self._fewest_seams()]
        if self._floor is not None:
            bounds.append(self._floor)
        known = self._before.lower_bound if self._before else 0
        return max(known, min(bounds, default=0))

    def _fewest_seams(self) -> list[Candidate]:
        """Return the candidates that sew no more pieces than the best plan does."""
        best = self.best
        return [
            candidate
            for candidate in self._candidates
            if best is None or candidate.seamed <= best.seamed
        ]

    def run(self) -> None:
        """Look deeper where something can be gained."""
        hopeful = [c for c in self._candidates if c.hunt.best is not None]
        hopeful.sort(key=_rank)
        for turn, candidate in enumerate(hopeful):
            best = self.best
            if best is None or candidate.seamed > best.seamed:
                break
            share = self._meter.left // (len(hopeful) - turn)
            if max(candidate.bound, self.bound) < _rank(best)[1]:
                self._deepen(candidate, self._meter.part(share))
            self._tell()

    def _deepen(self, candidate: Candidate, meter: Meter) -> None:
        table, hunt = candidate.table, candidate.hunt
        hunt.meter = meter
        best = hunt.best
        if best is None:
            return
        slices = Relaxation(table, by_rows=False)
        slices.run(meter.part(meter.left // 4), Fraction(best.cost))
        candidate.bound = max(candidate.bound, bound_of(table, slices.bound))
        if best.cost <= candidate.bound:
            return
        rows = Relaxation(table, by_rows=True)
        rows.run(meter.part(meter.left // 3), Fraction(best.cost))
        if self._job.laying is Laying.ROWS:
            candidate.bound = max(candidate.bound, bound_of(table, rows.bound))
        Descent(hunt, rows, meter.part(meter.left * 3 // 4), seed=self._slice).run(
            candidate.bound
        )
        hunt.improve(candidate.bound, meter.left)

    def _tell(self) -> None:
        best = self.best
        self._meter.tell(None if best is None else _rank(best)[1], self.bound)

    def verdict(self, found: Found) -> Verdict:
        """Return how good the best plan is."""
        fits = [candidate.hunt.first_fit for candidate in self._fewest_seams()]
        some = [fit for fit in fits if fit is not None]
        bound = min(found.cost, self.bound)
        return Verdict(
            price=found.cost,
            lower_bound=bound,
            bound_class=IN_ROWS if self._job.laying is Laying.ROWS else ANY,
            first_fit=min(some, default=None),
            stopped=self._meter.is_over() and found.cost > bound,
            work=self._meter.work + (self._before.work if self._before else 0),
            job=digest(self._job),
            dives=self._slice,
            version=ENGINE_VERSION,
        )

    def shortage(self) -> str:
        """Say what finds no room, lot by lot."""
        told = [self._short_of(c) for c in self._candidates]
        told += [_too_narrow(self._job, rolls) for rolls in self._misfits]
        told = list(dict.fromkeys(told))
        if self._job.one_lot and len(lots_of(self._job)) > 1:
            return " ".join(["No dye lot is enough for the whole job.", *told[:NAMED]])
        return " ".join(["The rolls are not enough for the whole job.", *told[:NAMED]])

    def _short_of(self, candidate: Candidate) -> str:
        table, job = candidate.table, self._job
        order = sorted(range(len(table.demand)), key=lambda i: -table.area[i])
        kinds = range(len(table.kinds))
        missing = Builder(table, job.laying).missing(order, kinds)
        names = [
            f"{count} of {job.parts[table.members[item][0]].key}"
            for item, count in enumerate(missing)
            if count
        ]
        more = f" and {len(names) - NAMED} more" if len(names) > NAMED else ""
        rolls = [kind.roll for kind in table.kinds]
        return f"{_name(rolls)} leaves over {', '.join(names[:NAMED])}{more}."


def _rank(candidate: Candidate) -> tuple[int, int, int]:
    """Return what makes one plan better: fewer seamed pieces, cost, length."""
    best = candidate.hunt.best
    return (candidate.seamed, *(best.rank if best is not None else (0, 0)))


def _seamed(job: RollJob, variant: Variant) -> int:
    return sum(
        part.count
        for part, lays in zip(job.parts, variant, strict=True)
        if lays[0].drops > 1
    )


def _name(rolls: Sequence[Roll]) -> str:
    """Return what a refusal calls a set of rolls: its lot, or its rolls."""
    lots = {roll.lot for roll in rolls}
    if len(lots) == 1 and "" not in lots:
        return f"Lot {lots.pop()}"
    keys = [roll.key for roll in rolls]
    return ", ".join(keys[:NAMED]) + (" …" if len(keys) > NAMED else "")


def _too_narrow(job: RollJob, rolls: Rolls) -> str:
    return f"{_name(rolls)} is too narrow or too short for some pieces."


def _yield(uses: Sequence[RollUse]) -> float:
    cut = sum(use.cut_ticks * use.usable_ticks for use in uses)
    parts = sum(
        piece.across_ticks * piece.along_ticks
        for use in uses
        for piece in use.pieces
        if not piece.for_repairs
    )
    return parts / cut


def _warnings(job: RollJob, uses: Sequence[RollUse]) -> Iterator[str]:
    lots: dict[tuple[str, int], set[str]] = {}
    for use in uses:
        for piece in use.pieces:
            lots.setdefault((piece.part, piece.copy), set()).add(use.lot)
    if len({use.lot for use in uses}) > 1:
        yield "The pieces are of more than one dye lot: shades may differ."
    for part in sorted({part for (part, _), mine in lots.items() if len(mine) > 1}):
        yield f"{part} is sewn of drops from more than one dye lot."
    seamed = {piece.part for use in uses for piece in use.pieces if piece.drop}
    for key in (part.key for part in job.parts if part.key in seamed):
        yield f"{key} is wider than the roll and is sewn of drops."
