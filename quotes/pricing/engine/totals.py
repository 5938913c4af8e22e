"""From rounded lines to what is due: discount, tax, deposit, balance.

The discount comes off the discountable lines and stops where they or the minimum
charge do. It is shared over them in one fixed order (tax, then key) by running
totals, each rounded: the shares add up to it exactly, none is larger than its line,
and how the lines are ordered on the page makes no difference.

Tax by the total is, for each rate, round(taxable × rate / 100) (EN 16931, BR-CO-17);
tax by the line is that for each line, added up. With tax-inclusive prices the gross is
the truth, and the tax within it is gross × rate / (100 + rate).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby

from quotes.pricing.engine.demand import PriceRequest
from quotes.pricing.engine.figures import (
    Audience,
    Figure,
    Op,
    Unit,
    add,
    combine,
    given,
    mention,
    part_of,
    rounded,
    subtract,
    times,
    total,
)
from quotes.pricing.engine.lines import tax_share
from quotes.pricing.engine.results import TaxAmount, Totals
from quotes.pricing.engine.rules import (
    AmountKind,
    Deposit,
    PriceRules,
    Reduction,
    TaxRate,
    TaxRounding,
)

ZERO = Decimal(0)


@dataclass(frozen=True, slots=True)
class LineAmount:
    """What the totals need to know of a line."""

    key: str
    amount: Figure
    tax: TaxRate | None
    discountable: bool

    @property
    def tax_group(self) -> tuple[str, Decimal]:
        """Lines of one tax label and rate are taxed together."""
        return (self.tax.label, self.tax.percent) if self.tax else ("", ZERO)


Bucket = tuple[LineAmount, ...]
"""Lines on which tax is rounded together: one line, or all lines of one rate."""


def total_up(
    lines: Sequence[LineAmount], request: PriceRequest, audience: Audience
) -> Totals:
    """Add up rounded lines; the same for shop and client but for what opens below."""
    rules = request.rules
    subtotal = add("Lines", tuple(line.amount for line in lines))
    discount = _discount(lines, subtotal, request, audience)
    taxes = _taxes(_buckets(lines, rules), discount, rules, audience)
    tax = add("Tax", tuple(item.amount for item in taxes))
    quoted = _quoted(subtotal, discount, rules)
    if rules.tax_inclusive:
        net, gross = subtract("Without tax", quoted, tax), quoted
    else:
        net, gross = quoted, add("With tax", (quoted, tax))
    deposit = _deposit(gross, request.deposit, rules.currency, audience)
    paid = () if deposit is None else (deposit,)
    return Totals(
        subtotal=subtotal,
        discount=discount,
        net=net,
        taxes=taxes,
        tax=tax,
        gross=gross,
        deposit=deposit,
        balance=subtract("Balance", gross, *paid),
    )


def _quoted(subtotal: Figure, discount: Figure | None, rules: PriceRules) -> Figure:
    """Return the lines less the discount: net, or gross where prices hold tax."""
    label = "With tax" if rules.tax_inclusive else "Without tax"
    if discount is None:
        return add(label, (subtotal,))
    return subtract(label, subtotal, discount)


def _discount(
    lines: Sequence[LineAmount],
    subtotal: Figure,
    request: PriceRequest,
    audience: Audience,
) -> Figure | None:
    """Return the discount, held within its base and above the minimum charge.

    Held to nothing it is still a figure for the shop, and none for the client.
    """
    if request.discount is None or not request.discount.value:
        return None
    base = _discounted("Discounted", lines)
    asked = _asked(request.discount, base, request.rules.currency, audience)
    limits = [asked, base]
    if request.rules.minimum_charge:
        limits.append(_room(subtotal, request.rules, audience))
    least = combine(request.discount.label, Op.SMALLEST, tuple(limits), Unit.MONEY)
    held = least.value < asked.value
    if not least.value and (audience is Audience.CLIENT or not held):
        return None
    return least if held else asked


def _asked(
    discount: Reduction, base: Figure, currency: str, audience: Audience
) -> Figure:
    if discount.kind is AmountKind.PERCENT:
        share = given("discount", discount.value, Unit.PERCENT, audience=audience)
        return rounded(discount.label, times(discount.label, base, share), currency)
    amount = given("agreed", discount.value, Unit.MONEY, audience=audience)
    return rounded(discount.label, amount, currency)


def _room(subtotal: Figure, rules: PriceRules, audience: Audience) -> Figure:
    """Return how far the price stands above the minimum charge."""
    least = given("minimum charge", rules.minimum_charge, Unit.MONEY, audience=audience)
    nothing = given("nothing", ZERO, Unit.MONEY, audience=audience)
    above = subtract("above the minimum charge", mention(subtotal), least)
    room = combine("room for it", Op.LARGEST, (above, nothing), Unit.MONEY)
    return rounded("room for it", room, rules.currency)


def _buckets(lines: Sequence[LineAmount], rules: PriceRules) -> tuple[Bucket, ...]:
    """Return the lines in tax order, put together as their tax is rounded."""
    ordered = sorted(lines, key=lambda line: (line.tax_group, line.key))
    if rules.tax_rounding is TaxRounding.LINE:
        return tuple((line,) for line in ordered)
    groups = groupby(ordered, key=lambda line: line.tax_group)
    return tuple(tuple(members) for _, members in groups)


def _taxes(
    buckets: tuple[Bucket, ...],
    discount: Figure | None,
    rules: PriceRules,
    audience: Audience,
) -> tuple[TaxAmount, ...]:
    """Return the tax of each rate: on each bucket less its part of the discount."""
    bases = tuple(zip(buckets, _bases(buckets, discount, rules.currency), strict=True))
    taxes = []
    for _, pairs in groupby(bases, key=lambda pair: pair[0][0].tax_group):
        members = tuple(pairs)
        rate = members[0][0][0].tax
        if rate is None:
            continue
        group = tuple(base for _, base in members)
        parts = tuple(_tax_on(base, rate, rules, audience) for base in group)
        taxes.append(
            TaxAmount(
                label=rate.label,
                percent=rate.percent,
                base=total(f"{rate.label} on", group),
                amount=total(rate.label, parts),
            )
        )
    return tuple(taxes)


def _bases(
    buckets: tuple[Bucket, ...], discount: Figure | None, currency: str
) -> Iterator[Figure]:
    """Yield what each bucket comes to, less its part of the discount."""
    every = tuple(line for bucket in buckets for line in bucket)
    base = _discounted("Discounted", every)
    before = _discounted("before it", ())
    done = 0
    for bucket in buckets:
        done += len(bucket)
        after = _discounted("with it", every[:done])
        amount = total("Lines", tuple(mention(line.amount) for line in bucket))
        if discount is not None and discount.value and after.value > before.value:
            part = mention(discount)
            if after.value - before.value < base.value:
                part = part_of(part, (before, after, base), currency)
            amount = subtract("Less discount", amount, part)
        before = _discounted("before it", every[:done])
        yield amount


def _discounted(label: str, lines: Sequence[LineAmount]) -> Figure:
    """Return the sum of the lines that a discount may come off."""
    return add(label, tuple(mention(x.amount) for x in lines if x.discountable))


def _tax_on(
    amount: Figure, rate: TaxRate, rules: PriceRules, audience: Audience
) -> Figure:
    """Return the tax on a net amount, or within a gross one, rounded."""
    share = given(rate.label, rate.percent, Unit.PERCENT, audience=audience)
    tax = times(rate.label, amount, share)
    if rules.tax_inclusive:
        parts = (tax, tax_share(rate, audience))
        tax = combine(f"{rate.label} within", Op.QUOTIENT, parts, Unit.MONEY)
    return rounded(rate.label, tax, rules.currency)


def _deposit(
    gross: Figure, deposit: Deposit | None, currency: str, audience: Audience
) -> Figure | None:
    """Return the deposit, never more than the gross."""
    if deposit is None or not deposit.value:
        return None
    if deposit.kind is AmountKind.PERCENT:
        share = given("deposit", deposit.value, Unit.PERCENT, audience=audience)
        part = times("Deposit", mention(gross), share)
        return rounded("Deposit", part, currency)
    amount = given("agreed", deposit.value, Unit.MONEY, audience=audience)
    asked = rounded("Deposit", amount, currency)
    if asked.value <= gross.value:
        return asked
    return combine("Deposit", Op.SMALLEST, (asked, mention(gross)), Unit.MONEY)
