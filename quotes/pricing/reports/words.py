"""Figures in the shop's locale and units, and as steps that open."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from functools import lru_cache

from quotes.pricing.engine import Figure, Unit, working
from quotes.specs.reports.tables import Step
from shared import money
from shared.conventions import current

FOOT = Decimal("0.3048")
MILE = Decimal("1.609344")
"""A foot in metres and a mile in kilometres, exact by definition."""

PLACES = 4
"""Decimals shown of a working, so that it can be followed on a calculator."""

METRIC_WORDS = {
    Unit.METRES: ("m", "a metre"),
    Unit.SQUARE_METRES: ("m²", "a m²"),
    Unit.KILOMETRES: ("km", "a km"),
}
IMPERIAL_WORDS = {
    Unit.METRES: ("ft", "a foot"),
    Unit.SQUARE_METRES: ("sq ft", "a sq ft"),
    Unit.KILOMETRES: ("miles", "a mile"),
}
OTHER_WORDS = {
    Unit.MILES: ("miles", "a mile"),
    Unit.HOURS: ("h", "an hour"),
    Unit.COUNT: ("", "each"),
    Unit.MINUTES: ("min", ""),
    Unit.PERCENT: ("%", ""),
    Unit.MONEY: ("", ""),
}
IN_FEET = {
    Unit.METRES: FOOT,
    Unit.SQUARE_METRES: FOOT * FOOT,
    Unit.KILOMETRES: MILE,
}
"""What one imperial unit is in the unit that the engine counts in."""


def show_figure(figure: Figure) -> str:
    """Print a figure in the shop's locale and unit system.

    Every measure of a working is turned by the same factor, prices per measure the
    other way, so the working still holds in feet.
    """
    value, conventions = figure.value, current()
    if not conventions.is_metric:
        value = value / IN_FEET.get(figure.unit, 1)
        if figure.per is not None:
            value = value * IN_FEET.get(figure.per, 1)
    currency = conventions.currency if figure.unit is Unit.MONEY else ""
    number = _number(value, currency, conventions.locale)
    words = [number, figure.noun or _words(figure.unit)[0]]
    if figure.per is not None and figure.unit is Unit.MONEY:
        words.append(_words(figure.per)[1])
    return " ".join(word for word in words if word)


def step_of(figure: Figure, *, shown: Iterable[Figure] = ()) -> Step:
    """Turn a figure into a step for the derivation partial, down to what was typed.

    What the page has `shown` already is named, not opened again.
    """
    return _step(figure, {id(known) for known in shown})


def steps_of(figures: Iterable[Figure], *, shown: Iterable[Figure] = ()) -> list[Step]:
    """Turn figures that stand below one another into steps, each opened once."""
    known = {id(figure) for figure in shown}
    steps = []
    for figure in figures:
        steps.append(_step(figure, known))
        known.add(id(figure))
    return steps


def _step(figure: Figure, known: set[int]) -> Step:
    below = (part for part in figure.parts if part.opens and id(part) not in known)
    return Step(
        label=figure.label[:1].upper() + figure.label[1:],
        amount=show_figure(figure),
        sums=working(figure, show_figure),
        steps=tuple(_step(part, known) for part in below),
    )


@lru_cache(maxsize=4096)
def _number(value: Decimal, currency: str, locale: str) -> str:
    """Print a number; kept, since a quote prints the same few over and over."""
    if currency:
        return money.show_cost(value, currency=currency, locale=locale)
    return money.show_number(value, locale=locale, decimals=PLACES)


def _words(unit: Unit) -> tuple[str, str]:
    """Return a unit's word after a number, and after a price for one of it."""
    own = METRIC_WORDS if current().is_metric else IMPERIAL_WORDS
    return own[unit] if unit in own else OTHER_WORDS[unit]
