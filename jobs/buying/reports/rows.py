"""Read what the netting goes by: needs, uses, stores, orders, days, gates. Eight queries."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from jobs.board.models import Job
from jobs.buying.adapter import Rows, Used
from jobs.buying.models import JobNeed, JobUse, OrderLine
from jobs.buying.slots import install_days
from jobs.gates.engine import buying_of
from jobs.gates.models import Gate
from jobs.gates.reports import Held, held_up, lots_of
from shop.catalogue.models import Material, StockLevel

BENCH_DAYS = 7
"""Calendar days from material at the bench to the first install day: a week in which
frames dry, cloth goes on, and panels are checked and wrapped."""

Key = tuple[uuid.UUID, uuid.UUID]


@dataclass(frozen=True, slots=True)
class Gathered:
    """The rows, and the gates behind what is held."""

    rows: Rows
    gates: Held

    def shut(self, need: JobNeed) -> tuple[Gate, ...]:
        """Return the gates that a need waits behind."""
        return _shut(self.gates, need)

    def gone_past(self, need: JobNeed) -> tuple[Gate, ...]:
        """Return the gates that somebody went past for a need."""
        act = buying_of(need.material.kind)
        return self.gates.gone_past(need.job_id, act, material=need.material_id)


def gather() -> Gathered:
    """Read everything about open jobs. Eight queries, however many there are."""
    needs = tuple(JobNeed.objects.of_open_jobs().with_rows())
    jobs = {need.job_id: need.job for need in needs}
    gates = held_up(jobs)
    rows = Rows(
        needs=needs,
        used=used_by(JobUse.objects.of_open_jobs().standing()),
        levels=tuple(StockLevel.objects.exclude(quantity=0).select_related("material")),
        coming=tuple(OrderLine.objects.coming()),
        materials=tuple(Material.objects.live().with_supplier()),
        days=bench_days(jobs),
        held={
            (need.job_id, need.material_id): "; ".join(gate.title for gate in shut)
            for need in needs
            if (shut := _shut(gates, need))
        },
        lots=lots_of(jobs),
    )
    return Gathered(rows, gates)


def _shut(gates: Held, need: JobNeed) -> tuple[Gate, ...]:
    act = buying_of(need.material.kind)
    return gates.shut(need.job_id, act, material=need.material_id)


def used_by(uses: Iterable[JobUse]) -> dict[Key, Used]:
    """Add up what jobs took, by job and material; the last lot counts."""
    found: dict[Key, Used] = {}
    for use in uses:
        key = (use.job_id, use.move.material_id)
        before = found.get(key, Used(Decimal(0)))
        lot = before.lot or use.move.lot
        found[key] = Used(before.quantity + use.quantity, lot)
    return found


def bench_days(jobs: Mapping[uuid.UUID, Job]) -> dict[uuid.UUID, dt.date]:
    """Say when each job's material must lie at the bench, where a day is known.

    By the first install day that is planned, else by the day that the client wants. One
    query.
    """
    planned = install_days(jobs)
    ahead = dt.timedelta(days=BENCH_DAYS)
    wanted = {pk: planned.get(pk) or job.wanted_by for pk, job in jobs.items()}
    return {pk: day - ahead for pk, day in wanted.items() if day}
