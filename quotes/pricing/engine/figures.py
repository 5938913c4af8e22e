"""Figures that know how they were reached: a tree of values and operations.

Every value on a price page is a `Figure`. Its parts, joined by its operation,
give its value exactly; `evaluate` works the whole tree out again from its given
leaves, so a derivation on the screen can't drift from the price it explains. A
`MENTION` names again what is opened elsewhere in the same tree.

Two units carry a factor of their own. A percentage counts as hundredths, and
minutes times an hourly rate count as sixtieths, so that "4 joints x 4.5 min x
48.00 an hour" is 14.40, as it is read.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import (
    ROUND_HALF_EVEN,
    Context,
    Decimal,
    DivisionByZero,
    InvalidOperation,
    Overflow,
    localcontext,
)
from enum import StrEnum

from shared.money import round_money

CONTEXT = Context(
    prec=34,
    rounding=ROUND_HALF_EVEN,
    traps=[InvalidOperation, DivisionByZero, Overflow],
)
"""Decimal context of all pricing: 34 digits, so that only the line rounds."""

HUNDRED = Decimal(100)
MINUTES_PER_HOUR = Decimal(60)


class Unit(StrEnum):
    """What a figure counts in."""

    MONEY = "money"
    MINUTES = "minutes"
    HOURS = "hours"
    METRES = "m"
    SQUARE_METRES = "m2"
    COUNT = "count"
    PERCENT = "percent"
    KILOMETRES = "km"
    MILES = "mile"


class Op(StrEnum):
    """How the parts of a figure make its value."""

    GIVEN = "given"
    SUM = "sum"
    DIFFERENCE = "difference"
    PRODUCT = "product"
    QUOTIENT = "quotient"
    SHARE = "share"
    PART = "part"
    MENTION = "mention"
    ROUND = "round"
    LARGEST = "largest"
    SMALLEST = "smallest"


SYMBOLS = {
    Op.GIVEN: "",
    Op.SUM: "+",
    Op.DIFFERENCE: "−",
    Op.PRODUCT: "×",
    Op.QUOTIENT: "÷",
    Op.SHARE: "of",
    Op.PART: "",
    Op.MENTION: "",
    Op.ROUND: "",
    Op.LARGEST: "or",
    Op.SMALLEST: "or",
}
"""The sign printed between two parts of a figure."""


class Audience(StrEnum):
    """Who may see a figure."""

    SHOP = "shop"
    CLIENT = "client"


@dataclass(frozen=True, slots=True)
class Figure:
    """One value, its unit and where it comes from.

    `per` turns the unit into a rate (money per hour). `noun` says what a count
    counts. `currency` is set where a value is rounded. A figure is for the
    client only when every part of it is.
    """

    label: str
    value: Decimal
    unit: Unit
    op: Op = Op.GIVEN
    parts: tuple["Figure", ...] = ()
    per: Unit | None = None
    noun: str = ""
    audience: Audience = Audience.SHOP
    currency: str = ""

    @property
    def symbol(self) -> str:
        """The sign that stands between this figure's parts."""
        return SYMBOLS[self.op]

    @property
    def is_given(self) -> bool:
        """Whether the value was typed in rather than worked out."""
        return self.op is Op.GIVEN

    @property
    def opens(self) -> bool:
        """Whether there is a derivation to show here and not elsewhere."""
        return self.op not in {Op.GIVEN, Op.MENTION}


def given(
    label: str,
    value: Decimal,
    unit: Unit,
    *,
    per: Unit | None = None,
    noun: str = "",
    audience: Audience = Audience.SHOP,
) -> Figure:
    """Return a leaf: a value somebody typed or measured."""
    return Figure(label, value, unit, per=per, noun=noun, audience=audience)


def combine(
    label: str,
    op: Op,
    parts: tuple[Figure, ...],
    unit: Unit,
    *,
    per: Unit | None = None,
) -> Figure:
    """Return the figure that `op` makes of `parts`."""
    value = _apply(op, parts, tuple(part.value for part in parts), "")
    return Figure(label, value, unit, op, parts, per=per, audience=_shared(parts))


def add(label: str, parts: tuple[Figure, ...], unit: Unit = Unit.MONEY) -> Figure:
    """Return the sum of the parts; nothing at all sums to zero."""
    return combine(label, Op.SUM, parts, unit)


def subtract(
    label: str, first: Figure, *rest: Figure, unit: Unit = Unit.MONEY
) -> Figure:
    """Return the first figure less all the others."""
    return combine(label, Op.DIFFERENCE, (first, *rest), unit)


def times(label: str, *parts: Figure, unit: Unit = Unit.MONEY) -> Figure:
    """Return the product of the parts."""
    return combine(label, Op.PRODUCT, parts, unit)


def mention(figure: Figure) -> Figure:
    """Return a figure to name again what is opened elsewhere in the same tree."""
    return combine(figure.label, Op.MENTION, (figure,), figure.unit, per=figure.per)


def total(label: str, parts: tuple[Figure, ...]) -> Figure:
    """Return the sum of money; a single part goes by the label itself."""
    if len(parts) == 1:
        return replace(parts[0], label=label)
    return add(label, parts)


def part_of(
    whole: Figure, stretch: tuple[Figure, Figure, Figure], currency: str
) -> Figure:
    """Return the part of a rounded amount that falls on a stretch of its base.

    `stretch` is (running total before, running total after, base). The part is
    round(whole × after ÷ base) - round(whole × before ÷ base): neighbours add up to
    the whole exactly, and with the whole no larger than the base no part is larger
    than its own stretch. All are multiples of the currency's minor unit.
    """
    parts = (whole, *stretch)
    values = tuple(part.value for part in parts)
    return Figure(
        f"part of {whole.label}",
        _apply(Op.PART, parts, values, currency),
        Unit.MONEY,
        Op.PART,
        parts,
        audience=_shared(parts),
        currency=currency,
    )


def rounded(label: str, part: Figure, currency: str) -> Figure:
    """Return the part rounded half up to the currency's minor unit.

    Where there is nothing to round it is the part itself under its new label.
    """
    value = round_money(part.value, currency)
    if value == part.value:
        return replace(part, label=label, value=value, currency=currency)
    return Figure(
        label,
        value,
        Unit.MONEY,
        Op.ROUND,
        (part,),
        audience=part.audience,
        currency=currency,
    )


def evaluate(figure: Figure) -> Decimal:
    """Work a figure out again from its given leaves alone."""
    with localcontext(CONTEXT):
        return _evaluate(figure, {})


def walk(figure: Figure) -> Iterator[Figure]:
    """Yield the figure and all below it, from the top, mentions included, each once."""
    seen: set[int] = set()
    waiting = [figure]
    while waiting:
        found = waiting.pop()
        if id(found) in seen:
            continue
        seen.add(id(found))
        yield found
        waiting.extend(reversed(found.parts))


def _evaluate(figure: Figure, known: dict[int, Decimal]) -> Decimal:
    """Evaluate, keeping what is known: what is mentioned often is worked out once."""
    if figure.is_given:
        return figure.value
    if id(figure) not in known:
        values = tuple(_evaluate(part, known) for part in figure.parts)
        known[id(figure)] = _apply(figure.op, figure.parts, values, figure.currency)
    return known[id(figure)]


def _shared(parts: tuple[Figure, ...]) -> Audience:
    """Return the audience of a figure made of parts: the narrowest of theirs."""
    if all(part.audience is Audience.CLIENT for part in parts):
        return Audience.CLIENT
    return Audience.SHOP


def _apply(
    op: Op, parts: tuple[Figure, ...], values: tuple[Decimal, ...], currency: str
) -> Decimal:
    """Join values by an operation, units minding their own factors."""
    match op:
        case Op.SUM:
            return sum(values, Decimal(0))
        case Op.DIFFERENCE:
            return values[0] - sum(values[1:], Decimal(0))
        case Op.PRODUCT:
            return _product(parts, values)
        case Op.QUOTIENT | Op.SHARE:
            hundredths = op is Op.SHARE or parts[1].unit is Unit.PERCENT
            return values[0] * (HUNDRED if hundredths else 1) / values[1]
        case _:
            return _pick(op, values, currency)


def _pick(op: Op, values: tuple[Decimal, ...], currency: str) -> Decimal:
    """Apply the operations that choose or round rather than calculate."""
    match op:
        case Op.LARGEST:
            return max(values)
        case Op.SMALLEST:
            return min(values)
        case Op.PART:
            whole, before, after, base = values
            upto = round_money(whole * after / base, currency)
            return upto - round_money(whole * before / base, currency)
        case Op.ROUND:
            return round_money(values[0], currency)
        case _:
            return values[0]


def _product(parts: tuple[Figure, ...], values: tuple[Decimal, ...]) -> Decimal:
    """Multiply, then divide once by the factors the units bring."""
    result = Decimal(1)
    for value in values:
        result *= value
    divisor = Decimal(1)
    for part in parts:
        if part.unit is Unit.PERCENT:
            divisor *= HUNDRED
    hourly = any(part.per is Unit.HOURS for part in parts)
    if hourly and any(part.unit is Unit.MINUTES for part in parts):
        divisor *= MINUTES_PER_HOUR
    return result if divisor == 1 else result / divisor
