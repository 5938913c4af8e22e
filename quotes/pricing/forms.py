"""The shop's rules for prices, as a person types them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from decimal import Decimal
from typing import Any

from django.forms.boundfield import BoundField
from django.utils.functional import lazy

from quotes.pricing.adapter import Basis
from quotes.pricing.models import (
    AllowanceBasis,
    LineKind,
    PriceRules,
    ProfitBasis,
    TaxRate,
)
from shared.conventions import current
from shared.forms import (
    CountField,
    MoneyFormField,
    PercentFormField,
    PlainCharField,
    PlainModelForm,
)
from shared.money import MAX_DECIMALS, MoneyError, round_money
from shared.quantities import DISTANCE

RATE_DECIMALS = 3
LARGEST = Decimal(9_999_999)
"""Of any amount of the rules: more is a slip of the finger."""


class RateField(PercentFormField):
    """A share in percent with up to three decimals: 8.875 is a tax, never thousands."""

    def __init__(self, **kwargs: Any) -> None:
        """Give an example of a share."""
        usual: dict[str, Any] = {"decimals": RATE_DECIMALS + 1, "example": "12.5"}
        super().__init__(**usual | kwargs)

    def prepare_value(self, value: Any) -> Any:
        """Print three decimals as three."""
        shown = super().prepare_value(value)
        is_number = isinstance(value, Decimal) and isinstance(shown, str)
        if is_number and re.search(r"[.,]\d{3}0$", shown):
            return shown[:-1]
        return shown

    def read(self, text: str) -> Decimal:
        """Read three decimals as decimals."""
        plain = text.strip()
        number = super().read(
            f"{plain}0" if re.fullmatch(r"\d{1,3}[.,]\d{3}", plain) else plain
        )
        kept = round(number, RATE_DECIMALS)
        if number != kept:
            raise MoneyError("decimals", "Use three decimals at most, as in 8.875.")
        return kept


class AmountField(MoneyFormField):
    """An amount of the rules, with a limit that catches a slip of the finger."""

    def __init__(self, **kwargs: Any) -> None:
        """Take up to `LARGEST`."""
        usual: dict[str, Any] = {"max_value": LARGEST}
        super().__init__(**usual | kwargs)


class DistanceRateField(AmountField):
    """An amount per km, or per mile in a shop of feet and inches; kept per km."""

    def __init__(self, **kwargs: Any) -> None:
        """Say in the label which unit it is for, known when it is shown."""
        named: Any = lazy(lambda: f"For each {_unit_word()} driven", str)
        super().__init__(label=named(), **kwargs)

    def prepare_value(self, value: Any) -> Any:
        """Print the amount per the shop's own unit."""
        if isinstance(value, Decimal):
            value = round_money(value * self._per_unit(), current().currency)
        return super().prepare_value(value)

    def to_python(self, value: Any) -> Decimal | None:
        """Read the amount per the shop's own unit."""
        amount = super().to_python(value)
        if amount is None or isinstance(value, Decimal):
            return amount
        return round(amount / self._per_unit(), MAX_DECIMALS)

    def _per_unit(self) -> Decimal:
        return DISTANCE.factor(DISTANCE.usual)


def _unit_word() -> str:
    return "kilometre" if current().is_metric else "mile"


class PriceRulesForm(PlainModelForm):
    """All rules of the shop, and the tax on each kind of line."""

    profit_percent = RateField(label="How much, %", max_value=900, example="40")
    overhead_percent = RateField(label="Share of cost, %")
    overhead_per_hour = AmountField(label="For each labour hour")
    allowance_percent = RateField(label="How much, %")
    wood_yield_percent = RateField(
        label="Of a sheet or board that ends up in panels, %", min_value=10
    )
    wood_waste_percent = RateField(label="Spoiled or mis-cut, on top, %")
    fabric_yield_percent = RateField(
        label="Of a roll that ends up on panels, %", min_value=10
    )
    fabric_spare_percent = RateField(label="To spare, on top, %")
    fill_waste_percent = RateField(label="Offcuts, on top, %")
    travel_rate_per_km = DistanceRateField()
    travel_hourly_rate = AmountField(label="For each person’s hour on the road")
    trips = CountField(label="Trips for a job", min_value=1, max_value=50, example="2")
    crew = CountField(label="People on a trip", min_value=1, max_value=20, example="2")
    minimum_charge = AmountField(
        label="The least that a quote comes to",
        help_text="What is missing is added as a line of its own. 0: no least.",
    )
    deposit_percent = RateField(label="Deposit asked with the yes, %")
    tax_name = PlainCharField(max_length=20, label="What the tax is called")

    class Meta:
        model = PriceRules
        fields = (
            "overhead_basis",
            "overhead_percent",
            "overhead_per_hour",
            "profit_basis",
            "profit_percent",
            "allowance_basis",
            "allowance_percent",
            "wood_yield_percent",
            "wood_waste_percent",
            "fabric_yield_percent",
            "fabric_spare_percent",
            "fill_waste_percent",
            "travel_rate_per_km",
            "travel_hourly_rate",
            "trips",
            "crew",
            "minimum_charge",
            "deposit_percent",
            "tax_name",
            "prices_include_tax",
            "tax_rounding",
        )
        labels = {
            "overhead_basis": "Reckoned as",
            "profit_basis": "Reckoned as",
            "allowance_basis": "Reckoned as",
            "prices_include_tax": "Prices are quoted with the tax in them",
            "tax_rounding": "The tax is rounded",
        }
        help_texts = {
            "prices_include_tax": "As private clients see them. The total is then the"
            " truth, and the tax is worked out of it.",
        }

    def __init__(
        self, *args: Any, rates: Iterable[TaxRate] = (), **kwargs: Any
    ) -> None:
        """Add a field for the tax on each kind of line."""
        super().__init__(*args, **kwargs)
        self.rates_now = tuple(rates)
        now = {rate.line_kind: rate.percent for rate in self.rates_now}
        for kind in LineKind:
            self.fields[_tax(kind)] = RateField(
                label=f"On {kind.label}, %", required=False, example="20"
            )
            self.initial[_tax(kind)] = now.get(kind)

    def clean(self) -> dict[str, Any]:
        """Say beside the field what the database would refuse about the whole."""
        cleaned: dict[str, Any] = super().clean() or {}
        self._whole_is_too_much(
            "profit_percent",
            cleaned.get("profit_basis") == ProfitBasis.MARGIN,
            "A margin is a share of the price, so it is under 100 %. Give less, or"
            " reckon it as markup.",
        )
        self._whole_is_too_much(
            "allowance_percent",
            cleaned.get("allowance_basis") == AllowanceBasis.SHIFT,
            "The whole shift would be rest: give less than 100 %.",
        )
        return cleaned

    def _whole_is_too_much(self, name: str, is_share: bool, sentence: str) -> None:  # noqa: FBT001
        share = self.cleaned_data.get(name)
        if is_share and share is not None and share >= 100:
            self.add_error(name, sentence)

    @property
    def tax_fields(self) -> Iterator[BoundField]:
        """The fields of the tax on each kind of line."""
        return (self[_tax(kind)] for kind in LineKind)

    def rates(self) -> dict[str, Decimal | None]:
        """Return the tax typed for each kind of line; None where it bears none."""
        return {kind.value: self.cleaned_data[_tax(kind)] for kind in LineKind}

    def basis(self) -> Basis | None:
        """Return what prices are worked out from: as typed, or as it stands.

        Nothing when what was typed can't be read.
        """
        rates = self.rates_now
        if self.is_bound:
            if not self.is_valid():
                return None
            rates = tuple(
                TaxRate(line_kind=kind, percent=percent)
                for kind, percent in self.rates().items()
                if percent is not None
            )
        return Basis(rules=self.instance, rates=rates, currency=current().currency)


def _tax(kind: LineKind) -> str:
    return f"tax_{kind.value}"
