"""Template filters that print by the shop's conventions."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Any, TypeAlias

from django import template
from django.template.defaultfilters import length as count

from shared import length as lengths
from shared import money as monies
from shared.conventions import current
from shared.length import UnitSystem
from shared.quantities import MEASURES
from shared.units import KG_PER_LB, M2_PER_FT2

register = template.Library()

FINEST_KEY = 16
"""Finer fractions than sixteenths are typed with the stroke key."""

Number: TypeAlias = int | float | Decimal


@register.filter
def length(value: Any) -> str | int:
    """Print ticks in the shop's units, rounded for reading; count anything else.

    Django has a filter of the same name, which this one would hide: lists go there.
    """
    if value is None:
        return ""
    if not isinstance(value, int):
        return count(value)
    conventions = current()
    return lengths.show(
        value, units=conventions.unit_system, fraction=conventions.fraction
    )


@register.filter
def cut(value: int | None) -> str:
    """Print ticks as a tape reads at the saw: inches alone to 1/32, or 0.5 mm."""
    if value is None:
        return ""
    conventions = current()
    if conventions.is_metric:
        half = lengths.TICKS_PER_MM // 2
        value = (2 * value + half) // (2 * half) * half
    return lengths.show(
        value,
        units=conventions.unit_system,
        fraction=max(32, conventions.fraction),
        feet=False,
    )


@register.filter
def length_exact(value: int | None) -> str:
    """Print ticks in the shop's units so that they read back the same."""
    if value is None:
        return ""
    return lengths.show_exact(value, units=current().unit_system)


@register.filter
def length_both(value: int | None) -> str:
    """Print ticks in the shop's units, and in the other system behind."""
    if value is None:
        return ""
    conventions = current()
    other = UnitSystem.IMPERIAL if conventions.is_metric else UnitSystem.METRIC
    there = lengths.show(value, units=other, fraction=conventions.fraction)
    return f"{length(value)} ({there})"


@register.simple_tag
def size(*sides: int) -> str:
    """Print two or three sides as one size: 600 × 1200 mm."""
    conventions = current()
    return lengths.show_size(
        *sides, units=conventions.unit_system, fraction=conventions.fraction
    )


@register.filter
def money(value: Decimal | None) -> str:
    """Print an amount with its currency."""
    if value is None:
        return ""
    conventions = current()
    return monies.show_money(
        value, currency=conventions.currency, locale=conventions.locale
    )


@register.filter
def money_in(value: Decimal | None, currency: str) -> str:
    """Print an amount kept in a currency of its own."""
    if value is None:
        return ""
    return monies.show_money(value, currency=currency, locale=current().locale)


@register.filter
def unit_price(value: Decimal | None) -> str:
    """Print the price of one of something small: up to four decimals."""
    if value is None:
        return ""
    exact = Decimal(value).normalize()
    rounded = monies.round_money(exact, current().currency)
    if rounded == exact:
        return money(exact)
    number = monies.show_number(exact, locale=current().locale, decimals=4)
    return f"{number} {current().currency}"


@register.filter
def mass(kg: Number | None) -> str:
    """Print kilograms to 0.1 kg, or as pounds to 0.5 lb."""
    if kg is None:
        return ""
    if current().is_metric:
        return f"{_number(kg, 1)} kg"
    half_pounds = (Decimal(str(kg)) / Decimal(str(KG_PER_LB)) * 2).quantize(
        Decimal(1), rounding=ROUND_HALF_UP
    )
    return f"{_number(half_pounds / 2, 1)} lb"


@register.filter
def area(m2: Number | None) -> str:
    """Print square metres to two decimals, or as square feet to one."""
    if m2 is None:
        return ""
    if current().is_metric:
        return f"{_number(m2, 2)} m²"
    return f"{_number(float(m2) / M2_PER_FT2, 1)} ft²"


@register.filter
def hours(minutes: Number | None) -> str:
    """Print minutes as hours and minutes: 90 as 1 h 30 min."""
    if minutes is None:
        return ""
    whole = int(Decimal(str(minutes)).quantize(Decimal(1), rounding=ROUND_HALF_UP))
    hour, minute = divmod(abs(whole), 60)
    parts = [f"{hour} h"] * bool(hour) + [f"{minute} min"] * bool(minute or not hour)
    return ("-" if whole < 0 else "") + " ".join(parts)


@register.filter
def percent(value: Number | None) -> str:
    """Print a percentage with up to two decimals."""
    return "" if value is None else f"{_number(value, 2)} %"


@register.filter
def quantity(value: Number | None, decimals: int = 2) -> str:
    """Print a plain number in the shop's locale."""
    return "" if value is None else _number(value, decimals)


@register.filter
def measured(value: Number | None, what: str) -> str:
    """Print a kept quantity in the shop's unit, rounded for reading: density, load."""
    return "" if value is None else MEASURES[what].rounded(value)


def _number(value: Number, decimals: int) -> str:
    return monies.show_number(
        Decimal(str(value)), locale=current().locale, decimals=decimals
    )


@register.simple_tag
def keypad_keys(units: str = "") -> dict[str, Any]:
    """Say which keys there are for a length, with the fractions of the shop's tape.

    `units` is for showing the keys by themselves: then they stand where they are.
    """
    conventions = current()
    steps = min(conventions.fraction, FINEST_KEY)
    return {
        "is_metric": (units or conventions.unit_system) == UnitSystem.METRIC,
        "fractions": [Fraction(n, steps) for n in range(1, steps)],
        "is_sample": bool(units),
    }
