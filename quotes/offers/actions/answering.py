"""Write down what became of a sent quote."""

from __future__ import annotations

import datetime as dt
import uuid

from django.db import transaction

from quotes.offers.actions.drafting import changeable
from quotes.offers.actions.errors import CannotAnswerError
from quotes.offers.actions.ledger import write_down
from quotes.offers.models import AnswerKind, Quote, QuoteRevision, QuoteState
from quotes.offers.slots import ON_ACCEPT, ON_TAKE_BACK
from quotes.specs.models import PlannedPanel
from shared.audit.actions import record
from shared.conventions import today
from shared.dates import show_day
from shared.outbox.actions import withdraw
from shop.people.models import Person


@transaction.atomic
def accept_quote(
    quote: Quote,
    *,
    note: str,
    by: Person,
    at: dt.datetime,
    seen: uuid.UUID | None = None,
) -> QuoteRevision:
    """Write down the client's yes to what was sent last, and let the job be opened.

    Raises
    ------
    CannotAnswerError
        When the quote is not out, has run out, or its panels are in a job already.
    """
    locked, revision = _out(quote, seen=seen)
    if today(at) > revision.valid_until:
        raise CannotAnswerError(
            f"{revision.reference} was valid until {show_day(revision.valid_until)}:"
            " send it again with a new date."
        )
    _commit_panels(revision, at=at)
    _answer(locked, revision, kind=AnswerKind.ACCEPTED, note=note, by=by, at=at)
    for follow in ON_ACCEPT:
        follow(revision, by, at)
    return revision


def _commit_panels(revision: QuoteRevision, *, at: dt.datetime) -> None:
    """Take the panels of the snapshot for the job; one that is taken stops the whole."""
    ids = [panel["planned_panel"] for panel in revision.snapshot["panels"]]
    panels = PlannedPanel.objects.select_for_update().by_ids(ids)
    if any(panel.committed_at for panel in panels):
        raise CannotAnswerError(
            "Some of its panels are in a job already, by another quote: send it again"
            " without them."
        )
    PlannedPanel.objects.by_ids(ids).update(committed_at=at, dropped_at=None)


@transaction.atomic
def take_yes_back(
    quote: Quote,
    *,
    note: str,
    by: Person,
    at: dt.datetime,
    seen: uuid.UUID | None = None,
) -> QuoteRevision:
    """Undo a yes of which nothing has been built yet: the quote is out again as before.

    Raises
    ------
    CannotAnswerError
        When the quote is not accepted, or its job has gone on.
    """
    locked = Quote.objects.select_for_update().get(pk=quote.pk)
    revision = locked.revisions.last()
    if locked.state != QuoteState.ACCEPTED or revision is None:
        raise CannotAnswerError(
            f"Quote {locked.number} is {locked.get_state_display()}: there is no yes to"
            " take back."
        )
    if seen is not None and seen != revision.pk:
        raise CannotAnswerError("This page is out of date: load it again.")
    for follow in ON_TAKE_BACK:
        follow(revision, by, at)
    ids = [panel["planned_panel"] for panel in revision.snapshot["panels"]]
    PlannedPanel.objects.by_ids(ids).update(committed_at=None)
    _answer(locked, revision, kind=AnswerKind.TAKEN_BACK, note=note, by=by, at=at)
    return revision


@transaction.atomic
def decline_quote(
    quote: Quote,
    *,
    note: str,
    by: Person,
    at: dt.datetime,
    seen: uuid.UUID | None = None,
) -> QuoteRevision:
    """Write down the client's no, and why."""
    locked, revision = _out(quote, seen=seen)
    _answer(locked, revision, kind=AnswerKind.DECLINED, note=note, by=by, at=at)
    return revision


@transaction.atomic
def void_quote(quote: Quote, *, note: str, by: Person, at: dt.datetime) -> Quote:
    """Put an open or unanswered quote aside for good; its number stays used."""
    locked = changeable(quote)
    for revision in locked.revisions.unanswered():
        write_down(revision, kind=AnswerKind.VOID, by=by, at=at, note=note)
    withdraw(locked)
    locked.state = QuoteState.VOID
    locked.save(update_fields=("state",))
    record(locked, verb="voided", text=f"Quote {locked.number} voided.", by=by, at=at)
    return locked


def lapse_quotes(*, at: dt.datetime) -> int:
    """Let quotes lapse whose last local day is over; give how many."""
    lapsed = 0
    for quote in Quote.objects.out_past(today(at)):
        lapsed += _lapse(quote, at=at)
    return lapsed


@transaction.atomic
def _lapse(quote: Quote, *, at: dt.datetime) -> int:
    try:
        locked, revision = _out(quote)
    except CannotAnswerError:
        return 0
    if revision.valid_until >= today(at):
        return 0  # sent again with a new day since it was looked up
    _answer(locked, revision, kind=AnswerKind.LAPSED, note="", by=None, at=at)
    return 1


def _out(quote: Quote, *, seen: uuid.UUID | None = None) -> tuple[Quote, QuoteRevision]:
    """Lock a quote that is out, and its last revision: the one that was seen."""
    locked = Quote.objects.select_for_update().get(pk=quote.pk)
    revision = locked.revisions.unanswered().last()
    if locked.state != QuoteState.SENT or revision is None:
        raise CannotAnswerError(
            f"Quote {locked.number} is {locked.get_state_display()}, not out."
        )
    if seen is not None and seen != revision.pk:
        raise CannotAnswerError(
            f"{revision.reference} was sent meanwhile: look at it before you answer."
        )
    return locked, revision


STATE_AFTER = {
    AnswerKind.ACCEPTED: QuoteState.ACCEPTED,
    AnswerKind.DECLINED: QuoteState.DECLINED,
    AnswerKind.LAPSED: QuoteState.LAPSED,
    AnswerKind.TAKEN_BACK: QuoteState.SENT,
}


def _answer(
    quote: Quote,
    revision: QuoteRevision,
    *,
    kind: AnswerKind,
    note: str,
    by: Person | None,
    at: dt.datetime,
) -> None:
    write_down(revision, kind=kind, by=by, at=at, note=note)
    quote.state = STATE_AFTER[kind]
    quote.save(update_fields=("state",))
    text = f"{revision.reference} {kind.label}."
    record(quote, verb=kind.value, text=text, by=by, at=at)
