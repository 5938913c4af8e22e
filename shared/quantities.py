"""Areas, distances, densities, masses and loads with their unit, as people write them.

A bare number is in the shop's own unit, save for a load, which has to say its unit: a
working load in the wrong one could hurt somebody. Values are kept in SI units, rounded so
finely that the shortest text that means a value is the one that is shown.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.core.exceptions import ValidationError
from django.utils.functional import lazy

from shared import money, units
from shared.conventions import current
from shared.forms import PlainDecimalField
from shared.money import MoneyError

KEPT_DECIMALS = 4
SHOWN_DECIMALS = 8


@dataclass(frozen=True, slots=True)
class Measure:
    """A kind of quantity: its two usual units, and the factor of each to the kept one."""

    metric: str
    imperial: str
    factors: dict[str, float]

    @property
    def usual(self) -> str:
        """The unit that a bare number is in, in this shop."""
        return self.metric if current().is_metric else self.imperial

    def factor(self, unit: str) -> Decimal:
        """How many kept units one of these is; KeyError when unknown."""
        return Decimal(str(self.factors[_spelled(unit)]))

    def kept(self, number: Decimal, unit: str) -> Decimal:
        """Turn a number of some unit into the kept one."""
        return round(number * self.factor(unit), KEPT_DECIMALS)

    def rounded(self, value: Decimal | float, decimals: int = 2) -> str:
        """Print a kept value in the shop's unit, rounded for reading."""
        there = Decimal(str(value)) / self.factor(self.usual)
        number = money.show_number(there, locale=current().locale, decimals=decimals)
        return f"{number} {self.usual}"

    def text(self, value: Decimal | float) -> str:
        """Print a kept value in the shop's unit, by the shortest text that means it."""
        exact, unit = round(Decimal(str(value)), KEPT_DECIMALS), self.usual
        there = exact / self.factor(unit)
        shown = next(
            (
                short
                for short in (round(there, n) for n in range(SHOWN_DECIMALS))
                if self.kept(short, unit) == exact
            ),
            round(there, SHOWN_DECIMALS),
        )
        return f"{money.show_plain(shown, locale=current().locale)} {unit}"


def _spelled(unit: str) -> str:
    """Take m2 for m², and spaces and full stops for nothing."""
    plain = unit.replace("²", "2").replace("³", "3").replace("^", "").casefold()
    return re.sub(r"[\s.]", "", plain)


AREA = Measure(
    "m²",
    "ft²",
    dict.fromkeys(("m2", "sqm"), 1.0)
    | dict.fromkeys(("ft2", "sqft"), units.M2_PER_FT2),
)
DISTANCE = Measure(
    "km", "mi", {"km": 1.0} | dict.fromkeys(("mi", "mile", "miles"), 1.609344)
)
DENSITY = Measure(
    "kg/m³",
    "lb/ft³",
    {"kg/m3": 1.0} | dict.fromkeys(("lb/ft3", "pcf"), units.KG_M3_PER_LB_FT3),
)
AREA_MASS = Measure(
    "g/m²",
    "oz/yd²",
    dict.fromkeys(("g/m2", "gsm"), 1.0)
    | {"kg/m2": 1000.0, "oz/yd2": units.G_M2_PER_OZ_YD2},
)
MASS = Measure(
    "g",
    "oz",
    {"g": 1.0, "kg": 1000.0, "oz": 1000 * units.KG_PER_LB / 16}
    | dict.fromkeys(("lb", "lbs"), 1000 * units.KG_PER_LB),
)
LOAD = Measure(
    "N",
    "lbf",
    {"n": 1.0, "kn": 1000.0}
    | dict.fromkeys(("kg", "kgf"), units.STANDARD_GRAVITY_M_S2)
    | dict.fromkeys(("lb", "lbs", "lbf"), units.N_PER_LBF),
)

MEASURES = {
    "area": AREA,
    "distance": DISTANCE,
    "density": DENSITY,
    "area mass": AREA_MASS,
    "mass": MASS,
    "load": LOAD,
}
"""By the name that templates use."""

_PARTS = re.compile(r"\s*([-−+]?[\d.,]*)\s*(.*?)\s*", re.DOTALL)


class QuantityFormField(PlainDecimalField):
    """Reads a number with its unit; cleans to a Decimal of the kept unit.

    ``min_value`` and ``max_value`` are in the kept unit, too.
    """

    def __init__(
        self, measure: Measure, *, label: str, unit_needed: bool = False, **kwargs: Any
    ) -> None:
        """Put the shop's unit behind the label, known only when the page is shown."""
        self.measure, self.unit_needed = measure, unit_needed
        named: Any = lazy(lambda: f"{label}, {measure.usual}", str)
        usual: dict[str, Any] = {
            "label": label if unit_needed else named(),
            "decimals": SHOWN_DECIMALS,
            "min_value": Decimal("0.001"),
        }
        super().__init__(**usual | kwargs)
        self.widget.attrs["inputmode"] = "text" if unit_needed else "decimal"

    def prepare_value(self, value: Any) -> Any:
        """Print a value in the shop's unit; leave text alone."""
        if isinstance(value, Decimal | int | float) and not isinstance(value, bool):
            return self.measure.text(value)
        return value

    def to_python(self, value: Any) -> Decimal | None:
        """Read a number and its unit."""
        if value is None or isinstance(value, Decimal | float | int):
            return None if value is None else round(Decimal(str(value)), KEPT_DECIMALS)
        if not str(value).strip():
            return None
        parts = _PARTS.fullmatch(str(value)[:60])
        number, unit = parts.groups() if parts else ("", "")
        try:
            return self.measure.kept(self.read(number), self._unit(unit))
        except MoneyError as refused:
            raise ValidationError(refused.message, code=refused.kind) from refused
        except KeyError:
            raise ValidationError(self._example(unit), code="unit") from None

    def _unit(self, typed: str) -> str:
        if typed or self.unit_needed:
            return typed
        return self.measure.usual

    def _example(self, typed: str) -> str:
        usual = f"{self.example} {self.measure.metric}"
        other = f"{self.example} {self.measure.imperial}"
        if not typed:
            return f"Write the unit, too: {usual} or {other}."
        return f"This unit isn’t known here. Write it like {usual} or {other}."

    def validate(self, value: Any) -> None:
        """Check the limits, said in the shop's unit."""
        if value is None:
            super().validate(value)
        elif self.min_value is not None and value < self.min_value:
            least = self.measure.text(Decimal(self.min_value))
            raise ValidationError(f"Use at least {least}.", code="too_small")
        elif self.max_value is not None and value > self.max_value:
            most = self.measure.text(Decimal(self.max_value))
            raise ValidationError(f"Use at most {most}.", code="too_large")
