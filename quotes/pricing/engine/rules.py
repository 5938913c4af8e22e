"""The shop's price rules: profit, overhead, tax, minimum, allowance."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from quotes.pricing.engine.errors import (
    MAX_MONEY,
    PricingError,
    check_currency,
    check_number,
    check_text,
)

ALL = Decimal(100)
"""The whole, in percent."""
MAX_MARKUP = Decimal(10_000)
"""Largest markup or overhead taken, in percent; beyond it a slip is likelier."""


class ProfitKind(StrEnum):
    """Whether the profit is a share of the price or of the cost."""

    MARGIN = "margin"
    MARKUP = "markup"


class OverheadKind(StrEnum):
    """What the overhead is reckoned on."""

    NONE = "none"
    SHARE_OF_COST = "share_of_cost"
    PER_LABOUR_HOUR = "per_labour_hour"


class AllowanceKind(StrEnum):
    """What rest and delay are a share of: the work itself, or the whole shift."""

    OF_WORK = "of_work"
    OF_SHIFT = "of_shift"


class TaxRounding(StrEnum):
    """Whether tax is rounded line by line, or once for each rate."""

    LINE = "line"
    TOTAL = "total"


class AmountKind(StrEnum):
    """Whether a discount or deposit is a percentage or an amount."""

    PERCENT = "percent"
    AMOUNT = "amount"


@dataclass(frozen=True, slots=True)
class Profit:
    """What is put on top of cost: price = cost(1 + u), or cost/(1 - m)."""

    kind: ProfitKind
    percent: Decimal

    def __post_init__(self) -> None:
        check_number("profit_percent", self.percent, high=MAX_MARKUP)
        if self.kind is ProfitKind.MARGIN and self.percent >= ALL:
            raise PricingError(
                "profit_percent",
                "A margin must be under 100 %: it is a share of the price.",
            )


@dataclass(frozen=True, slots=True)
class Overhead:
    """Running costs: `value` is percent of direct cost, or money per labour hour."""

    kind: OverheadKind = OverheadKind.NONE
    value: Decimal = Decimal(0)

    def __post_init__(self) -> None:
        share = self.kind is OverheadKind.SHARE_OF_COST
        check_number(
            "overhead_value", self.value, high=MAX_MARKUP if share else MAX_MONEY
        )


@dataclass(frozen=True, slots=True)
class Allowance:
    """Rest and delay added to work time, in percent of `kind`."""

    kind: AllowanceKind = AllowanceKind.OF_WORK
    percent: Decimal = Decimal(0)

    def __post_init__(self) -> None:
        check_number("allowance_percent", self.percent, high=ALL)
        if self.kind is AllowanceKind.OF_SHIFT and self.percent == ALL:
            raise PricingError(
                "allowance_percent",
                "An allowance of the whole shift leaves no time for work.",
            )


@dataclass(frozen=True, slots=True)
class TaxRate:
    """The tax on one kind of line. Rates of equal label and percent go together."""

    kind: str
    label: str
    percent: Decimal

    def __post_init__(self) -> None:
        check_text("tax_kind", self.kind)
        check_text("tax_label", self.label)
        check_number("tax_percent", self.percent, high=ALL)


@dataclass(frozen=True, slots=True)
class Reduction:
    """A discount: `value` is percent, or money in the basis prices are quoted in."""

    kind: AmountKind
    value: Decimal
    label: str = "Discount"

    def __post_init__(self) -> None:
        _check_amount("discount", self.kind, self.value)


@dataclass(frozen=True, slots=True)
class Deposit:
    """What is asked for before work starts: percent of the gross, or money."""

    kind: AmountKind
    value: Decimal

    def __post_init__(self) -> None:
        _check_amount("deposit", self.kind, self.value)


@dataclass(frozen=True, slots=True)
class PriceRules:
    """Everything about money that the shop decides once.

    `tax_inclusive` says that prices are quoted with their tax in them: the gross
    is then the truth and tax is taken out of it. `minimum_charge` is in the basis
    prices are quoted in, taxed as `minimum_tax_kind`. A `tax_kind` of "" anywhere
    is a line without tax.
    """

    currency: str
    profit: Profit
    overhead: Overhead = Overhead()
    allowance: Allowance = Allowance()
    taxes: tuple[TaxRate, ...] = ()
    tax_inclusive: bool = False
    tax_rounding: TaxRounding = TaxRounding.TOTAL
    minimum_charge: Decimal = Decimal(0)
    minimum_tax_kind: str = ""

    def __post_init__(self) -> None:
        check_currency("currency", self.currency)
        check_number("minimum_charge", self.minimum_charge, high=MAX_MONEY)
        kinds = [rate.kind for rate in self.taxes]
        if len(kinds) != len(set(kinds)):
            raise PricingError("taxes", "Each kind of line has one rate of tax.")

    def tax_rate(self, kind: str) -> TaxRate | None:
        """Return the rate for a kind of line; None where the line bears no tax."""
        if not kind:
            return None
        for rate in self.taxes:
            if rate.kind == kind:
                return rate
        raise PricingError("tax_kind", f"There is no rate of tax for “{kind}”.")


def _check_amount(field: str, kind: AmountKind, value: Decimal) -> None:
    check_number(field, value, high=ALL if kind is AmountKind.PERCENT else MAX_MONEY)
