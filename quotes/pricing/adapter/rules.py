"""The shop's rules about prices, for the engine."""

from __future__ import annotations

from dataclasses import dataclass

from quotes.pricing import engine
from quotes.pricing.models import (
    AllowanceBasis,
    LineKind,
    OverheadBasis,
    PriceRules,
    ProfitBasis,
    TaxRate,
)


@dataclass(frozen=True, slots=True)
class Basis:
    """What the shop decided about prices: its rules, its taxes, its currency."""

    rules: PriceRules
    rates: tuple[TaxRate, ...]
    currency: str

    def tax_kind(self, kind: LineKind | str) -> str:
        """Return the kind of line where it bears tax, else none."""
        taxed = {rate.line_kind for rate in self.rates}
        return str(kind) if kind in taxed else ""


def rules_of(basis: Basis) -> engine.PriceRules:
    """Turn the shop's row of rules into the engine's."""
    rules = basis.rules
    margin = rules.profit_basis == ProfitBasis.MARGIN
    kind = engine.ProfitKind.MARGIN if margin else engine.ProfitKind.MARKUP
    return engine.PriceRules(
        currency=basis.currency,
        profit=engine.Profit(kind, rules.profit_percent),
        overhead=_overhead(rules),
        allowance=_allowance(rules),
        taxes=tuple(
            engine.TaxRate(rate.line_kind, rules.tax_name or "Tax", rate.percent)
            for rate in basis.rates
        ),
        tax_inclusive=rules.prices_include_tax,
        tax_rounding=engine.TaxRounding(rules.tax_rounding),
        minimum_charge=rules.minimum_charge,
        minimum_tax_kind=basis.tax_kind(LineKind.PANELS),
    )


def _overhead(rules: PriceRules) -> engine.Overhead:
    if rules.overhead_basis == OverheadBasis.HOUR:
        return engine.Overhead(
            engine.OverheadKind.PER_LABOUR_HOUR, rules.overhead_per_hour
        )
    return engine.Overhead(engine.OverheadKind.SHARE_OF_COST, rules.overhead_percent)


def _allowance(rules: PriceRules) -> engine.Allowance:
    shift = rules.allowance_basis == AllowanceBasis.SHIFT
    kind = engine.AllowanceKind.OF_SHIFT if shift else engine.AllowanceKind.OF_WORK
    return engine.Allowance(kind, rules.allowance_percent)
