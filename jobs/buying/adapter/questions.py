"""Needs, stores and orders as rows, turned into a question for each thing to buy."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.buying.engine import Demand, Offer, Question, Supply
from jobs.buying.models import JobNeed, OrderLine
from shop.catalogue.models import Material, MaterialKind, MaterialUnit, StockLevel

Key = tuple[uuid.UUID, uuid.UUID]
"""Job and material."""

TENTH = Decimal("0.1")
ZERO = Decimal(0)

BY_THE_METRE = (MaterialUnit.METRE, MaterialUnit.MILLILITRE, MaterialUnit.GRAM)
"""Units of which a pack of one is cut or filled to any amount."""


@dataclass(frozen=True, slots=True)
class Used:
    """What a job took of a material so far, and of which dye lot."""

    quantity: Decimal
    lot: str = ""


@dataclass(frozen=True, slots=True)
class Rows:
    """Everything that the netting goes by, as it was read.

    days: when each job's material must lie at the bench. held: why a job's material
    must not be ordered yet. lots: the dye lots that were signed for.
    """

    needs: Sequence[JobNeed]
    used: Mapping[Key, Used]
    levels: Sequence[StockLevel]
    coming: Sequence[OrderLine]
    materials: Sequence[Material]
    days: Mapping[uuid.UUID, dt.date]
    held: Mapping[Key, str]
    lots: Mapping[Key, str]

    def left(self, need: JobNeed) -> Decimal:
        """Return what a job still has to get; never less than nothing."""
        used = self.used.get((need.job_id, need.material_id), Used(ZERO))
        return max(ZERO, need.quantity - used.quantity)

    def lot(self, need: JobNeed) -> str:
        """Return the lot a job has to stay with: signed for, or begun."""
        key = (need.job_id, need.material_id)
        return self.lots.get(key) or self.used.get(key, Used(ZERO)).lot


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing to buy in every pack it comes in, with the question about it."""

    materials: tuple[Material, ...]
    needs: tuple[JobNeed, ...]
    question: Question

    @property
    def material(self) -> Material:
        """The material that the jobs name."""
        return self.needs[0].material

    def offered(self, key: str) -> Material:
        """Return the material that an offer stands for."""
        return next(each for each in self.materials if str(each.pk) == key)


def things_of(rows: Rows, *, today: dt.date) -> tuple[Thing, ...]:
    """Return what open jobs need, each thing once.

    Materials that differ in pack, price, supplier or code alone are one thing: a box of
    a hundred and a box of five hundred of the same screw.
    """
    kinds: dict[Hashable, list[Material]] = {}
    asked: dict[Hashable, list[JobNeed]] = {}
    for need in rows.needs:
        if rows.left(need):
            asked.setdefault(_kind_of(need.material), []).append(need)
    for material in rows.materials:
        kinds.setdefault(_kind_of(material), []).append(material)
    return tuple(
        _thing(needs, kinds.get(kind, []), rows, today=today)
        for kind, needs in asked.items()
    )


def _kind_of(material: Material) -> Hashable:
    return (
        material.kind,
        " ".join(material.name.casefold().split()),
        material.unit,
        material.colour.casefold(),
        material.thickness_ticks,
        material.width_ticks,
        material.length_ticks,
    )


def _thing(
    needs: list[JobNeed], live: Iterable[Material], rows: Rows, *, today: dt.date
) -> Thing:
    named = {need.material_id: need.material for need in needs}
    materials = named | {material.pk: material for material in live}
    return Thing(
        materials=tuple(materials.values()),
        needs=tuple(needs),
        question=Question(
            demands=tuple(_demand(need, rows) for need in needs),
            supplies=(*_there(materials, rows), *_coming(materials, rows, today=today)),
            offers=tuple(_offer(each) for each in materials.values()),
            one_lot=needs[0].material.kind == MaterialKind.FABRIC,
        ),
    )


def _demand(need: JobNeed, rows: Rows) -> Demand:
    return Demand(
        job=need.job.code,
        quantity=rows.left(need),
        needed_on=rows.days.get(need.job_id),
        held=rows.held.get((need.job_id, need.material_id), ""),
        lot=rows.lot(need),
    )


def _there(materials: Mapping[uuid.UUID, Material], rows: Rows) -> Iterator[Supply]:
    """Yield what lies in the stores; a level below nothing holds nothing."""
    for level in rows.levels:
        if level.material_id in materials and level.quantity > 0:
            yield Supply(level.quantity, lot=level.lot)


def _coming(
    materials: Mapping[uuid.UUID, Material], rows: Rows, *, today: dt.date
) -> Iterator[Supply]:
    """Yield what is on order, and what stands in drafts, as if they went today.

    What should have come by now can come today at the earliest.
    """
    for line in rows.coming:
        material = materials.get(line.material_id)
        left = line.quantity - line.arrived
        if material is None or left <= 0:
            continue
        lead = material.supplier.lead_days if material.supplier else 0
        day = line.order.expected_on or today + dt.timedelta(days=lead)
        yield Supply(left, max(day, today), line.lot, line.order.number)


def _offer(material: Material) -> Offer:
    supplier = material.supplier
    return Offer(
        key=str(material.pk),
        supplier=str(supplier.pk) if supplier else "",
        pack_quantity=material.pack_quantity,
        pack_price=material.pack_price,
        lead_days=supplier.lead_days if supplier else 0,
        step=step_of(material),
    )


def step_of(material: Material) -> Decimal:
    """Return in which steps packs are bought: whole, or tenths where one is cut off.

    A "pack" of one metre means that the supplier cuts; a longer one is a whole roll.
    """
    by_metre = material.kind == MaterialKind.FABRIC or (
        material.kind in (MaterialKind.HARDWARE, MaterialKind.CONSUMABLE)
        and material.unit in BY_THE_METRE
    )
    return TENTH if by_metre and material.pack_quantity == 1 else Decimal(1)
