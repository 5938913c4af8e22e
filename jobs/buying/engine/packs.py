"""The cheapest packs that hold an amount."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import ROUND_CEILING, Decimal

from jobs.buying.engine.model import ZERO, Offer, PackCount

MOST_TRIES = 20_000
"""Tries after which the best mix so far is taken; real packs end long before."""


def cheapest_packs(short: Decimal, offers: Sequence[Offer]) -> tuple[PackCount, ...]:
    """Return the packs of least cost that hold at least `short`.

    Offers without a price, or given away, count only where no offer has one: then the
    amount itself stands for the cost. No pack of the answer can be left out.
    """
    priced = [offer for offer in offers if offer.pack_price]
    ranked = sorted(priced or offers, key=lambda o: (_rate(o), o.pack_quantity, o.key))
    if short <= 0 or not ranked:
        return ()
    search = _Search(tuple(ranked))
    search.look(0, rest=short, counts=(), cost=ZERO)
    counts = _without_spare(search.best, ranked, short)
    return tuple(
        PackCount(offer, count)
        for offer, count in zip(ranked, counts, strict=True)
        if count
    )


def _price(offer: Offer) -> Decimal:
    return offer.pack_price or offer.pack_quantity


def _rate(offer: Offer) -> Decimal:
    return _price(offer) / offer.pack_quantity


def _steps(rest: Decimal, offer: Offer) -> int:
    """Count the steps of an offer that hold the rest."""
    each = offer.pack_quantity * offer.step
    return max(0, int((rest / each).to_integral_value(ROUND_CEILING)))


@dataclass(slots=True)
class _Search:
    """Depth first, the cheapest rate first; a branch that can't be cheaper is left."""

    offers: tuple[Offer, ...]
    best: tuple[Decimal, ...] = ()
    least: Decimal | None = None
    tries: int = field(default=0)

    def look(
        self, index: int, *, rest: Decimal, counts: tuple[Decimal, ...], cost: Decimal
    ) -> None:
        offer = self.offers[index]
        steps = _steps(rest, offer)
        last = index == len(self.offers) - 1
        while steps >= 0 and self.tries < MOST_TRIES:
            self.tries += 1
            count = steps * offer.step
            left = max(ZERO, rest - count * offer.pack_quantity)
            spent = cost + count * _price(offer)
            now = (*counts, count)
            if left == 0:
                self._keep(now, spent)
            elif last or self._hopeless(spent + left * _rate(self.offers[index + 1])):
                return
            else:
                self.look(index + 1, rest=left, counts=now, cost=spent)
            steps -= 1

    def _hopeless(self, bound: Decimal) -> bool:
        return self.least is not None and bound >= self.least

    def _keep(self, counts: tuple[Decimal, ...], cost: Decimal) -> None:
        if self.least is None or cost < self.least:
            missing = len(self.offers) - len(counts)
            self.best, self.least = (*counts, *(ZERO,) * missing), cost


def _without_spare(
    counts: Sequence[Decimal], offers: Sequence[Offer], short: Decimal
) -> list[Decimal]:
    """Leave out what is not needed: the dearest first."""
    kept = list(counts)
    for index in reversed(range(len(kept))):
        offer = offers[index]
        others = sum(
            (n * o.pack_quantity for n, o in zip(kept, offers, strict=True)), ZERO
        )
        others -= kept[index] * offer.pack_quantity
        kept[index] = min(kept[index], _steps(short - others, offer) * offer.step)
    return kept
