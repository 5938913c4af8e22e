"""What a job needs, used and is short of; what is on order and promised of a material."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.board.models import Job
from jobs.buying.adapter import Used, things_of
from jobs.buying.engine import Share, net
from jobs.buying.models import JobNeed, JobUse, OrderLine
from jobs.buying.reports.rows import gather, used_by
from jobs.buying.reports.words import day_text, days_text
from jobs.gates.models import Gate
from shared.conventions import current
from shared.money import round_money
from shop.catalogue.models import Material
from shop.catalogue.reports.stock import quantity_text
from shop.catalogue.slots import Line, Promised

ZERO = Decimal(0)


@dataclass(frozen=True, slots=True)
class JobRow:
    """One material of a job: needed, used, and how the rest is met."""

    need: JobNeed | None
    material: Material
    used: Decimal
    used_cost: Decimal | None
    share: Share | None
    gates: tuple[Gate, ...] = ()

    @property
    def needed_words(self) -> str:
        """How much it takes in all."""
        if self.need is None:
            return "not planned"
        return quantity_text(self.material, self.need.quantity)

    @property
    def used_words(self) -> str:
        """How much it took so far."""
        return quantity_text(self.material, self.used) if self.used else "–"

    @property
    def left(self) -> Decimal:
        """What it still has to get."""
        return max(ZERO, (self.need.quantity if self.need else ZERO) - self.used)

    @property
    def short(self) -> Decimal:
        """What is neither here nor on order or in a draft for it."""
        return self.share.short if self.share else ZERO

    @property
    def is_open(self) -> bool:
        """Whether something is short, or comes too late."""
        return bool(self.short or (self.share and self.share.late_days))

    @property
    def rest_words(self) -> str:
        """Where the rest comes from."""
        share = self.share
        if share is None:
            return "all taken out" if self.need else "taken out"
        words = []
        if share.from_stock:
            words.append(
                f"{quantity_text(self.material, share.from_stock)} in the stores"
            )
        if share.from_orders:
            late = f", {days_text(share.late_days)} too late" if share.late_days else ""
            much = quantity_text(self.material, share.from_orders)
            words.append(f"{much} on order or in a draft{late}")
        if share.short:
            words.append(f"{quantity_text(self.material, share.short)} short")
        return "; ".join(words)

    @property
    def needed_cost(self) -> Decimal | None:
        """What it takes in all costs at today's price, rounded once."""
        price = self.material.unit_price
        if self.need is None or price is None:
            return None
        return round_money(self.need.quantity * price, current().currency)


@dataclass(frozen=True, slots=True)
class JobMaterial:
    """All material of a job."""

    job: Job
    rows: tuple[JobRow, ...]
    needed_on: dt.date | None
    uses: tuple[JobUse, ...]

    @property
    def open_rows(self) -> tuple[JobRow, ...]:
        """Rows that somebody has to see to."""
        return tuple(row for row in self.rows if row.is_open)

    @property
    def calm_rows(self) -> tuple[JobRow, ...]:
        """Return the rest: it lies there, comes in time, or is used."""
        return tuple(row for row in self.rows if not row.is_open)

    @property
    def short_count(self) -> int:
        """Of how many materials something is short."""
        return sum(bool(row.short) for row in self.rows)

    @property
    def can_take(self) -> bool:
        """Whether there is something left to take out."""
        return any(row.left for row in self.rows)

    @property
    def day_words(self) -> str:
        """By when it must lie at the bench."""
        return day_text(self.needed_on)

    def cost(self, name: str) -> Decimal:
        """Add a column of costs up; what has no price is left out."""
        return sum((getattr(row, name) or ZERO for row in self.rows), ZERO)

    @property
    def needed_cost(self) -> Decimal:
        """What all of it costs at today's prices."""
        return self.cost("needed_cost")

    @property
    def used_cost(self) -> Decimal:
        """What was taken out so far cost."""
        return self.cost("used_cost")


def job_material(job: Job, *, today: dt.date) -> JobMaterial:
    """Say how a job stands: all open jobs are netted, so that it is true. Ten queries."""
    needs = list(JobNeed.objects.of_job(job).with_rows())
    uses = tuple(JobUse.objects.of_job(job).standing())
    shares: dict[uuid.UUID, Share] = {}
    gates: dict[uuid.UUID, tuple[Gate, ...]] = {}
    needed_on = None
    if job.is_open and needs:
        found = gather()
        needed_on = found.rows.days.get(job.pk)
        for thing in things_of(found.rows, today=today):
            own = [need for need in thing.needs if need.job_id == job.pk]
            for share in net(thing.question, today=today).shares:
                if own and share.demand.job == job.code:
                    shares[own[0].material_id] = share
        gates = {need.material_id: found.shut(need) for need in needs}
    known = _Known(job, used_by(uses), uses, shares, gates)
    ordered = sorted(needs, key=lambda n: (n.material.kind, n.material.name))
    rows = [_row(need, need.material, known) for need in ordered]
    planned = {need.material_id for need in needs}
    extra = {u.move.material_id: u.move.material for u in uses}
    rows += [_row(None, m, known) for pk, m in extra.items() if pk not in planned]
    return JobMaterial(job, tuple(rows), needed_on, uses)


@dataclass(frozen=True, slots=True)
class _Known:
    """What was read about a job's materials."""

    job: Job
    used: Mapping[tuple[uuid.UUID, uuid.UUID], Used]
    uses: Sequence[JobUse]
    shares: Mapping[uuid.UUID, Share]
    gates: Mapping[uuid.UUID, tuple[Gate, ...]]


def _row(need: JobNeed | None, material: Material, known: _Known) -> JobRow:
    took = known.used.get((known.job.pk, material.pk), Used(ZERO)).quantity
    own = [use for use in known.uses if use.move.material_id == material.pk]
    return JobRow(
        need=need,
        material=material,
        used=took,
        used_cost=_cost(own),
        share=known.shares.get(material.pk),
        gates=known.gates.get(material.pk, ()),
    )


def _cost(uses: Sequence[JobUse]) -> Decimal | None:
    """Price what was used as it was bought, or as it costs now; rounded once."""
    prices = [u.move.unit_cost or u.move.material.unit_price for u in uses]
    if not uses or None in prices:
        return None
    total = sum(
        (u.quantity * (price or ZERO) for u, price in zip(uses, prices, strict=True)),
        ZERO,
    )
    return round_money(total, current().currency)


def promises(ids: Sequence[uuid.UUID]) -> dict[uuid.UUID, Promised]:
    """Say what is on order of materials, and what open jobs will still take. Three queries.

    Drafts are not on order.
    """
    found: dict[uuid.UUID, Promised] = {}
    for line in _outstanding(ids):
        found[line.material_id] = found.get(line.material_id, Promised()) + _ordered(
            line
        )
    needs = JobNeed.objects.of_open_jobs().of_materials(ids).with_rows()
    used = used_by(JobUse.objects.of_open_jobs().of_materials(ids).standing())
    for need in needs:
        took = used.get((need.job_id, need.material_id), Used(ZERO)).quantity
        if need.quantity > took:
            left = need.quantity - took
            found[need.material_id] = found.get(
                need.material_id, Promised()
            ) + Promised(promised=left, job_lines=(_for_job(need, left),))
    return found


def _outstanding(ids: Sequence[uuid.UUID]) -> Iterable[OrderLine]:
    lines = OrderLine.objects.outstanding().of_materials(ids)
    return lines.select_related("order__supplier")


def _ordered(line: OrderLine) -> Promised:
    order = line.order
    day = day_text(order.expected_on)
    text = f"{order.number}, {order.supplier}, expected on {day}"
    return Promised(
        on_order=line.outstanding,
        order_lines=(Line(text, line.outstanding, order.get_absolute_url()),),
    )


def _for_job(need: JobNeed, left: Decimal) -> Line:
    # no client's name: makers look at the stores, too
    return Line(need.job.code, left, need.job.get_absolute_url())
