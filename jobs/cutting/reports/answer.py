"""A plan's answer in plain words: how many, how good that is, what halving costs."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from jobs.cutting.adapter import counts_of
from jobs.cutting.engine import PricedBy, Request
from jobs.cutting.engine.results import Halved
from jobs.cutting.models import CutPlan, Halving
from shared.conventions import current
from shared.money import minor_exponent, show_money, show_number
from shared.nesting import BarPlan, SheetPlan


@dataclass(frozen=True, slots=True)
class Taken:
    """So many of one stock."""

    count: int
    name: str
    size: str
    is_piece: bool


@dataclass(frozen=True, slots=True)
class Bound:
    """How good a plan is: a sentence, the plans that it is about, whether it is proven."""

    sentence: str
    about: str
    proven: bool


@dataclass(frozen=True, slots=True)
class Way:
    """A way to begin, what it takes, and what that is beside the plan's own way."""

    halving: str
    label: str
    words: str
    is_own: bool
    is_possible: bool


def title_of(taken: Iterable[Taken], noun: str) -> str:
    """Say how many there are of whole ones and of offcuts."""
    counts = dict.fromkeys((False, True), 0)
    for each in taken:
        counts[each.is_piece] += each.count
    return _together(counts[False], counts[True], noun)


def _together(whole: int, offcuts: int, noun: str) -> str:
    counts = {noun: whole, "offcut": offcuts}
    return " and ".join(_many(n, what) for what, n in counts.items() if n)


def bound_of(
    request: Request, found: SheetPlan | BarPlan, noun: str, *, sees_money: bool
) -> Bound:
    """Say whether a better plan of this kind can exist."""
    verdict = found.verdict
    about = verdict.bound_class
    whole = request.whole_sources
    bought = sum(
        count
        for key, count in counts_of(found).items()
        if not request.source(key).is_piece
    )
    if not bought:
        return Bound("Offcuts are enough: nothing whole is cut.", about, proven=True)
    if len(whole) > 1:
        return Bound(
            _cheaper(request, found, sees_money=sees_money), about, verdict.proven
        )
    least = -(-verdict.lower_bound // whole[0].price)
    if bought <= least:
        sentence = f"No plan of this kind needs fewer than {_many(bought, noun)}."
        return Bound(sentence, about, proven=True)
    span = str(least) if bought - least == 1 else f"{least} to {bought - 1}"
    sentence = f"{span} might be possible; {bought} is the best found."
    return Bound(sentence, about, proven=False)


def _cheaper(request: Request, found: SheetPlan | BarPlan, *, sees_money: bool) -> str:
    verdict = found.verdict
    what = {
        PricedBy.MONEY: "costs less" if sees_money else "is cheaper",
        PricedBy.COUNT: "needs fewer",
        PricedBy.AREA: "needs less area",
    }[request.priced_by]
    if verdict.proven:
        return f"No plan of this kind {what}."
    share = Decimal(verdict.price - verdict.lower_bound) / Decimal(verdict.price)
    percent = show_number(100 * share, locale=current().locale, decimals=1)
    return f"A plan of this kind that {what} may exist, by {percent} % at most."


def priced_words(request: Request, noun: str) -> str:
    """Say what is missing where no price was known."""
    if request.priced_by is PricedBy.COUNT:
        return f"No price is known, so the plan takes the fewest {noun}s."
    if request.priced_by is PricedBy.AREA:
        return "Not every price is known, so the plan takes the least area."
    return ""


def cost_of(request: Request, plan: CutPlan) -> str:
    """Print what is cut up costs, without tax; nothing where no price was known."""
    if request.priced_by is not PricedBy.MONEY or plan.price is None:
        return ""
    return money_words(plan.price)


def money_words(minor: int) -> str:
    """Print an amount of minor units."""
    conventions = current()
    exponent = minor_exponent(conventions.currency)
    return show_money(
        Decimal(minor).scaleb(-exponent),
        currency=conventions.currency,
        locale=conventions.locale,
    )


def ways_of(
    plan: CutPlan,
    request: Request,
    halved: tuple[Halved, ...],
    noun: str,
    *,
    money: bool,
) -> tuple[Way, ...]:
    """Compare the ways to begin with the plan's own."""
    own = next((h for h in halved if h.halving == plan.halving), None)
    return tuple(_way(each, own, request, noun, money=money) for each in halved)


_LABELS = {
    Halving.WHOLE: "Whole",
    Halving.LENGTHWISE: "Halved lengthwise first",
    Halving.ACROSS: "Halved across first",
}


def _way(
    each: Halved, own: Halved | None, request: Request, noun: str, *, money: bool
) -> Way:
    is_own = own is not None and each.halving == own.halving
    words = each.refused or _together(each.sheets, each.offcuts, noun)
    if own and not each.refused and not is_own:
        words += f", {_beside(each, own, request, money=money)}"
    label = _LABELS[Halving(each.halving)]
    return Way(str(each.halving), label, words, is_own, not each.refused)


def _beside(each: Halved, own: Halved, request: Request, *, money: bool) -> str:
    more = each.sheets - own.sheets
    if not each.sheets and not own.sheets:
        more = each.offcuts - own.offcuts
    words = f"{abs(more)} {'more' if more > 0 else 'fewer'}" if more else "as many"
    dearer = each.price - own.price
    if money and dearer and request.priced_by is PricedBy.MONEY:
        sign = "+" if dearer > 0 else "−"
        words += f" ({sign}{money_words(abs(dearer))})"
    return words


def _many(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"
