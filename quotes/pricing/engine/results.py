"""What pricing gives: lines, totals, the shop's breakdown, the client's price."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from quotes.pricing.engine.costing import UnitCost
from quotes.pricing.engine.demand import MaterialKind, Stage
from quotes.pricing.engine.figures import Figure
from quotes.pricing.engine.rules import TaxRate


class LineKind(StrEnum):
    """Where a line of the quote comes from."""

    PANELS = "panels"
    SET_UP = "set_up"
    EXTRA = "extra"
    TRAVEL = "travel"
    MINIMUM = "minimum"


class NoteCode(StrEnum):
    """What a note about a price is about."""

    MINIMUM_APPLIED = "minimum_applied"
    DISCOUNT_HELD = "discount_held"
    DEPOSIT_HELD = "deposit_held"
    BELOW_COST = "below_cost"
    COST_UNKNOWN = "cost_unknown"
    PRICE_SET_BY_HAND = "price_set_by_hand"
    AVERAGE_YIELD = "average_yield"


@dataclass(frozen=True, slots=True)
class Note:
    """A sentence for the shop: a warning, or an assumption the price rests on."""

    code: NoteCode
    message: str


@dataclass(frozen=True, slots=True)
class PricedLine:
    """One line as the shop sees it: price, tax, and the cost under it.

    Amounts are in the basis prices are quoted in: net, or gross where the rules
    are tax-inclusive. `cost` is None where the shop gave a price and no cost.
    """

    key: str
    kind: LineKind
    label: str
    quantity: Decimal
    unit_price: Figure
    amount: Figure
    tax: TaxRate | None
    discountable: bool
    cost: UnitCost | None


@dataclass(frozen=True, slots=True)
class TaxAmount:
    """Tax of one rate: on `base`, or within it where prices hold their tax."""

    label: str
    percent: Decimal
    base: Figure
    amount: Figure


@dataclass(frozen=True, slots=True)
class Totals:
    """From the rounded lines to what is due."""

    subtotal: Figure
    discount: Figure | None
    net: Figure
    taxes: tuple[TaxAmount, ...]
    tax: Figure
    gross: Figure
    deposit: Figure | None
    balance: Figure


@dataclass(frozen=True, slots=True)
class ClientLine:
    """One line as the client sees it. `amount` opens to quantity × unit price."""

    key: str
    kind: LineKind
    label: str
    quantity: Decimal
    unit_price: Figure
    amount: Figure
    tax_label: str
    tax_percent: Decimal


@dataclass(frozen=True, slots=True)
class ClientPrice:
    """The whole price, with nothing in it that a client may not see."""

    currency: str
    tax_inclusive: bool
    lines: tuple[ClientLine, ...]
    totals: Totals
    engine_version: str


@dataclass(frozen=True, slots=True)
class KindMaterials:
    """What one kind of material costs in the whole quote."""

    kind: MaterialKind
    money: Figure


@dataclass(frozen=True, slots=True)
class StageLabour:
    """What one stage of the work takes in the whole quote."""

    stage: Stage
    minutes: Figure
    money: Figure


@dataclass(frozen=True, slots=True)
class Breakdown:
    """The quote's cost and margin: for the owner and the office only.

    Costs are not rounded. `margin_percent` is of the net price after discount;
    None where that price is zero.
    """

    by_kind: tuple[KindMaterials, ...]
    materials: Figure
    by_stage: tuple[StageLabour, ...]
    minutes: Figure
    labour: Figure
    travel: Figure
    overhead: Figure
    other: Figure
    cost: Figure
    price: Figure
    margin: Figure
    margin_percent: Figure | None


@dataclass(frozen=True, slots=True)
class PricedQuote:
    """A priced quote: `client` may leave the office, the rest may not."""

    lines: tuple[PricedLine, ...]
    totals: Totals
    breakdown: Breakdown
    client: ClientPrice
    warnings: tuple[Note, ...]
    assumptions: tuple[Note, ...]
    engine_version: str
