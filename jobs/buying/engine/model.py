"""What the netting of one material takes and gives: amounts in its own count, whole days."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal

ZERO = Decimal(0)


class BuyingError(ValueError):
    """An input that can't be bought by; names the field."""

    def __init__(self, field: str, message: str) -> None:
        """Keep the field and the sentence."""
        super().__init__(f"{field}: {message}")
        self.field = field
        self.message = message


def _some(field: str, amount: Decimal) -> None:
    if not amount.is_finite() or amount <= 0:
        raise BuyingError(field, "This must be more than nothing.")


@dataclass(frozen=True, slots=True)
class Demand:
    """What a job still has to get of a material.

    needed_on: the day on which it must lie at the bench; nothing if nobody said. held:
    why it is not to be ordered yet; "" if nothing stands in the way. lot: the dye lot
    that it has to be of; "" for any.
    """

    job: str
    quantity: Decimal
    needed_on: dt.date | None = None
    held: str = ""
    lot: str = ""

    def __post_init__(self) -> None:
        """Refuse a demand for nothing."""
        _some("quantity", self.quantity)


@dataclass(frozen=True, slots=True)
class Supply:
    """What lies there (`on` is nothing), or is on order and comes on a day."""

    quantity: Decimal
    on: dt.date | None = None
    lot: str = ""
    ref: str = ""

    def __post_init__(self) -> None:
        """Refuse a supply of nothing."""
        _some("quantity", self.quantity)


@dataclass(frozen=True, slots=True)
class Offer:
    """A pack that somebody sells: what it holds, costs, and how many days it takes.

    pack_price: without tax; nothing if nobody said. step: packs are bought in whole
    multiples of it: 1, or a tenth of a metre for what is cut off the roll. lead_days:
    calendar days from ordering until it is here.
    """

    key: str
    supplier: str
    pack_quantity: Decimal
    pack_price: Decimal | None = None
    lead_days: int = 0
    step: Decimal = Decimal(1)

    def __post_init__(self) -> None:
        """Refuse a pack that holds nothing, and a price below nothing."""
        _some("pack_quantity", self.pack_quantity)
        _some("step", self.step)
        if self.pack_price is not None and self.pack_price < 0:
            raise BuyingError("pack_price", "A price can't be negative.")
        if self.lead_days < 0:
            raise BuyingError("lead_days", "Days can't be negative.")


@dataclass(frozen=True, slots=True)
class Question:
    """One material: who needs it, what there is, in which packs it comes.

    one_lot: a job's whole amount has to be of one dye lot.
    """

    demands: tuple[Demand, ...]
    supplies: tuple[Supply, ...] = ()
    offers: tuple[Offer, ...] = ()
    one_lot: bool = False


@dataclass(frozen=True, slots=True)
class Share:
    """How one demand is met; the three amounts add up to what it asks for.

    late_days: by how many days what is on order comes too late for it.
    """

    demand: Demand
    from_stock: Decimal = ZERO
    from_orders: Decimal = ZERO
    short: Decimal = ZERO
    late_days: int = 0


@dataclass(frozen=True, slots=True)
class PackCount:
    """So many packs of an offer."""

    offer: Offer
    count: Decimal

    @property
    def quantity(self) -> Decimal:
        """What is in them, in the material's count."""
        return self.count * self.offer.pack_quantity


@dataclass(frozen=True, slots=True)
class Buy:
    """What to order of a material, or of one dye lot of it.

    order_by: the last day on which ordering is in time, with the days to spare; nothing
    where no day is known. late_days: by how many days it comes too late although it is
    ordered today; 0 while it is in time.
    """

    lot: str
    short: Decimal
    packs: tuple[PackCount, ...]
    shares: tuple[Share, ...]
    needed_on: dt.date | None = None
    order_by: dt.date | None = None
    late_days: int = 0

    @property
    def quantity(self) -> Decimal:
        """What is in the packs."""
        return sum((pack.quantity for pack in self.packs), ZERO)

    def is_due(self, today: dt.date) -> bool:
        """Whether it has to be ordered today, or had to be before."""
        return self.order_by is not None and self.order_by <= today


@dataclass(frozen=True, slots=True)
class Answer:
    """Every demand's share in the order of days, what to buy, and what waits.

    waiting: shares of demands that are held and not met from what there is.
    """

    shares: tuple[Share, ...]
    buys: tuple[Buy, ...]
    waiting: tuple[Share, ...]
