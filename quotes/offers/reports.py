"""What a quote's pages show."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from quotes.offers.draft import Draft, DraftRoom, work_out_draft
from quotes.offers.models import FreeLine, Quote, QuoteRevision, QuoteState
from quotes.offers.rows import fingerprint
from quotes.offers.slots import KEEPS_YES
from quotes.offers.unknown import Unknown, unknown_of
from quotes.pricing.engine import PricedLine
from quotes.pricing.reports import CostLine, Costs, costs_of, step_of, steps_of
from quotes.specs.reports import PanelGroup
from quotes.specs.reports.tables import Step
from shared.conventions import current
from shared.money import show_money
from shared.outbox.models import Message
from shared.templatetags.ui import hours
from shop.people.models import ShopProfile


@dataclass(frozen=True, slots=True)
class PageLine:
    """A line of the price on the page, open to its derivation.

    `group` is what panels make it, `free` the shop's own line; travel has neither.
    """

    key: str
    text: str
    quantity: Decimal
    unit_price: Decimal
    amount: Decimal
    step: Step
    group: PanelGroup | None = None
    free: FreeLine | None = None


@dataclass(frozen=True, slots=True)
class CostPart:
    """One kind of cost on the page, each figure open."""

    title: str
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class PageRoom:
    """One room on the page: its panels, and what each group costs the client."""

    draft: DraftRoom
    lines: tuple[PageLine, ...]


@dataclass(frozen=True, slots=True)
class QuotePage:
    """A quote's page: the draft, what was sent, and what became of it."""

    quote: Quote
    draft: Draft
    rooms: tuple[PageRoom, ...]
    other_lines: tuple[PageLine, ...]
    sums: tuple[Step, ...]
    total: Decimal | None
    costs: Costs | None
    cost_parts: tuple[CostPart, ...]
    notes: tuple[str, ...]
    revisions: tuple[QuoteRevision, ...]
    messages: tuple[Message, ...]
    changed_since_sent: bool
    has_run_out: bool
    """Sent once, and no longer to be answered: refused, or past its last day."""
    unknown: tuple[Unknown, ...]
    """What nobody knows yet that matters once the panels are to hang."""
    keeps_yes: str
    """Why an accepted quote's yes can't be taken back; empty while it can."""

    @property
    def last(self) -> QuoteRevision | None:
        """What was sent last."""
        return self.revisions[-1] if self.revisions else None

    @property
    def settled(self) -> QuoteRevision | None:
        """What was sent last, once nothing about it can change any more."""
        return None if self.quote.is_changeable else self.last

    @property
    def to_send(self) -> str:
        """What sending it would be called; nothing while that would change nothing."""
        if not self.quote.is_changeable:
            return ""
        if self.last is None:
            return "Send"
        if self.changed_since_sent:
            return "Send the next revision"
        return "Send it again, with a new date" if self.has_run_out else ""


def quote_page(quote: Quote, *, on: dt.date) -> QuotePage:
    """Work a quote's page out as of a local day. Queries do not grow with its size."""
    draft = work_out_draft(quote)
    revisions = tuple(quote.revisions.with_answers())
    lines = {line.key: line for line in draft.priced.lines} if draft.priced else {}
    panel_keys = {group.key for group in draft.groups}
    free = {str(line.pk): line for line in draft.rows.free_lines}
    costs = costs_of(draft.priced) if draft.priced else None
    return QuotePage(
        quote=quote,
        draft=draft,
        rooms=tuple(_room(room, lines) for room in draft.rooms),
        other_lines=tuple(
            page_line(line, free=free.get(key))
            for key, line in lines.items()
            if key not in panel_keys
        ),
        sums=tuple(_sums(draft)),
        total=draft.priced.totals.gross.value if draft.priced else None,
        costs=costs,
        cost_parts=tuple(_cost_parts(costs)) if costs else (),
        notes=tuple(note.message for note in draft.priced.warnings)
        if draft.priced
        else (),
        revisions=revisions,
        messages=tuple(Message.objects.about(quote)),
        changed_since_sent=_changed(draft, revisions),
        has_run_out=_has_run_out(quote, revisions, on=on),
        unknown=unknown_of(draft.rows, draft.groups, on=on)
        if quote.is_changeable
        else (),
        keeps_yes=_keeps_yes(quote, revisions),
    )


def _room(room: DraftRoom, lines: dict[str, PricedLine]) -> PageRoom:
    return PageRoom(
        draft=room,
        lines=tuple(
            page_line(lines[group.key], group)
            for group in room.groups
            if group.key in lines
        ),
    )


def page_line(
    line: PricedLine, group: PanelGroup | None = None, free: FreeLine | None = None
) -> PageLine:
    """Lay out one priced line, with its derivation down to what was typed."""
    return PageLine(
        key=line.key,
        text=line.label,
        quantity=line.quantity,
        unit_price=line.unit_price.value,
        amount=line.amount.value,
        step=replace(step_of(line.amount), label="How it comes about"),
        group=group,
        free=free,
    )


def _cost_parts(costs: Costs) -> Iterator[CostPart]:
    """Give the costs in their parts, to the cent; the workings below are exact."""
    yield CostPart("Materials", tuple(_in_cents(line) for line in costs.materials))
    yield CostPart("Work", tuple(_in_cents(line) for line in costs.labour))
    yield CostPart("Besides", tuple(_in_cents(line) for line in costs.others))
    last = (costs.cost, costs.price, costs.margin)
    yield CostPart("What is left", tuple(_in_cents(line) for line in last))


def _in_cents(line: CostLine) -> Step:
    """Print a cost by the currency, with the time it takes where it is work."""
    conventions = current()
    amount = show_money(
        line.money, currency=conventions.currency, locale=conventions.locale
    )
    time = f", {hours(line.minutes)}" if line.minutes else ""
    return replace(line.step, label=f"{line.label}{time}", amount=amount)


def _sums(draft: Draft) -> Iterator[Step]:
    """Give the sums in order; what the lines above them opened is only named."""
    if draft.priced is None:
        return
    totals = draft.priced.totals
    figures = [totals.subtotal]
    if totals.discount and totals.discount.value:
        figures.append(totals.discount)
    figures += [totals.net, *(tax.amount for tax in totals.taxes), totals.gross]
    if totals.deposit:
        figures.append(totals.deposit)
    figures.append(totals.balance)
    yield from steps_of(figures, shown=[line.amount for line in draft.priced.lines])


def _changed(draft: Draft, revisions: tuple[QuoteRevision, ...]) -> bool:
    if not revisions or not draft.quote.is_changeable:
        return False
    return fingerprint(draft.rows) != revisions[-1].draft_sha256


def _has_run_out(
    quote: Quote, revisions: tuple[QuoteRevision, ...], *, on: dt.date
) -> bool:
    if not revisions:
        return False
    return quote.state != QuoteState.SENT or revisions[-1].valid_until < on


def _keeps_yes(quote: Quote, revisions: tuple[QuoteRevision, ...]) -> str:
    if quote.state != QuoteState.ACCEPTED or not revisions:
        return ""
    reasons = (reason(revisions[-1]) for reason in KEEPS_YES)
    return next((said for said in reasons if said), "")


def cover_words(page: QuotePage, shop: ShopProfile, *, by: str) -> dict[str, str]:
    """Propose the mail that a quote goes with."""
    details = page.draft.rows.details
    return {
        "to": details.email,
        "subject": f"Quote {page.quote.number} from {shop.name}",
        "body": (
            f"Dear {details.name},\n\n"
            f"here is our quote {page.quote.number} for {_what(page)}.\n"
            "It says what we would build, how it looks, what it costs, and what panels"
            " don't do.\n\n"
            "To say yes, answer this mail. Please ask about anything that isn't clear.\n\n"
            f"{by}\n{shop.name}\n"
        ),
    }


def _what(page: QuotePage) -> str:
    rooms = [room.draft.room.name for room in page.rooms]
    count = page.draft.count
    panels = f"{count} panel{'' if count == 1 else 's'}" if count else "the work"
    return f"{panels} in {', '.join(rooms)}" if rooms else panels
