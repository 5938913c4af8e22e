"""Needs in the order of their days, less what there is: what to buy, and by when."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.buying.engine.model import (
    ZERO,
    Answer,
    Buy,
    Demand,
    Offer,
    Question,
    Share,
    Supply,
)
from jobs.buying.engine.packs import cheapest_packs

ENGINE_VERSION = "1"

SPARE_DAYS = 2
"""Calendar days between a delivery and the day it is needed: one that slips by a day or
two then stops nobody at the bench."""


def net(question: Question, *, today: dt.date) -> Answer:
    """Serve demands in the order of their days, and say what is short.

    What lies there goes first, then what is on order, the first to come first. A demand
    without a day comes last; demands of one day go by job. One that is held takes its
    share in its turn, so that nobody after it gets what it was promised; what it is
    short of waits, and is not bought. Of a material with dye lots a demand takes one lot
    alone: its own, or the smallest that holds all of it. All days are calendar days.
    """
    stores = _Stores.of(question)
    asked = sorted(question.demands, key=_turn)
    shares = tuple(stores.serve(demand) for demand in asked)
    short = [share for share in shares if share.short]
    free = [share for share in short if not share.demand.held]
    return Answer(
        shares=shares,
        buys=tuple(
            _buy(lot, group, question.offers, today=today)
            for lot, group in _by_lot(free, one_lot=question.one_lot)
        ),
        waiting=tuple(share for share in short if share.demand.held),
    )


def _turn(demand: Demand) -> tuple[dt.date, str]:
    return demand.needed_on or dt.date.max, demand.job


@dataclass(slots=True)
class _Heap:
    """Supplies that may be used together: all of a material, or one dye lot."""

    lot: str
    supplies: list[Supply]
    left: list[Decimal]

    @property
    def total(self) -> Decimal:
        return sum(self.left, ZERO)

    def take(self, demand: Demand) -> Share:
        """Take as much as there is, what lies there first."""
        stock, orders, late = ZERO, ZERO, 0
        rest = demand.quantity
        for index, supply in enumerate(self.supplies):
            part = min(rest, self.left[index])
            self.left[index] -= part
            rest -= part
            if supply.on is None:
                stock += part
            elif part:
                orders += part
                late = max(late, _days_after(supply.on, demand.needed_on))
        return Share(demand, stock, orders, rest, late)


@dataclass(slots=True)
class _Stores:
    heaps: list[_Heap]
    one_lot: bool

    @classmethod
    def of(cls, question: Question) -> _Stores:
        heaps: dict[tuple[str, str], list[Supply]] = {}
        first = dt.date.min
        for supply in sorted(
            question.supplies, key=lambda s: (s.on or first, s.lot, s.ref)
        ):
            # an order that names no lot brings one of its own, whichever it is
            own = supply.ref if supply.on is not None and not supply.lot else ""
            key = (supply.lot, own) if question.one_lot else ("", "")
            heaps.setdefault(key, []).append(supply)
        made = [
            _Heap(lot, supplies, [supply.quantity for supply in supplies])
            for (lot, _), supplies in heaps.items()
        ]
        return cls(made, question.one_lot)

    def serve(self, demand: Demand) -> Share:
        heap = self._heap_for(demand)
        if heap is None:
            return Share(demand, short=demand.quantity)
        return heap.take(demand)

    def _heap_for(self, demand: Demand) -> _Heap | None:
        if not self.one_lot:
            return self.heaps[0] if self.heaps else None
        if demand.lot:
            return next((heap for heap in self.heaps if heap.lot == demand.lot), None)
        fitting = [heap for heap in self.heaps if heap.total >= demand.quantity]
        return min(fitting, key=lambda heap: (heap.total, heap.lot), default=None)


def _by_lot(
    shares: Iterable[Share], *, one_lot: bool
) -> Iterable[tuple[str, list[Share]]]:
    lots: dict[str, list[Share]] = {}
    for share in shares:
        lots.setdefault(share.demand.lot if one_lot else "", []).append(share)
    return lots.items()


def _buy(
    lot: str, shares: Sequence[Share], offers: Sequence[Offer], *, today: dt.date
) -> Buy:
    """Order what some shares are short of, from whoever is cheapest and in time."""
    short = sum((share.short for share in shares), ZERO)
    days = [s.demand.needed_on for s in shares if s.demand.needed_on]
    needed_on = min(days, default=None)
    suppliers: dict[str, list[Offer]] = {}
    for offer in offers:
        suppliers.setdefault(offer.supplier, []).append(offer)
    buys = [
        _from_one(lot, short, group, shares, needed_on=needed_on, today=today)
        for group in suppliers.values()
    ]
    if not buys:
        return Buy(lot, short, (), tuple(shares), needed_on)
    return min(buys, key=_rank)


def _from_one(
    lot: str,
    short: Decimal,
    offers: Sequence[Offer],
    shares: Sequence[Share],
    *,
    needed_on: dt.date | None,
    today: dt.date,
) -> Buy:
    packs = cheapest_packs(short, offers)
    lead = dt.timedelta(days=max(pack.offer.lead_days for pack in packs))
    order_by = None
    if needed_on is not None:
        order_by = needed_on - lead - dt.timedelta(days=SPARE_DAYS)
    late = _days_after(today + lead, needed_on)
    return Buy(lot, short, packs, tuple(shares), needed_on, order_by, late)


def _rank(buy: Buy) -> tuple[int, bool, Decimal, Decimal, str]:
    """In time, then with a price, then cheap, then little left over."""
    prices = [pack.offer.pack_price for pack in buy.packs]
    cost = sum(
        (p.count * (p.offer.pack_price or ZERO) for p in buy.packs),
        ZERO,
    )
    return buy.late_days, not all(prices), cost, buy.quantity, buy.packs[0].offer.key


def _days_after(day: dt.date, needed_on: dt.date | None) -> int:
    return 0 if needed_on is None else max(0, (day - needed_on).days)
