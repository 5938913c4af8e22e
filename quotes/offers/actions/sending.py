"""Freeze a draft as the next revision, and put it in the outbox."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal
from functools import partial

from django.db import transaction

from quotes.offers.actions.errors import CannotSendError
from quotes.offers.actions.ledger import write_down
from quotes.offers.documents import quote_pdf
from quotes.offers.draft import Draft, draft_of
from quotes.offers.models import AnswerKind, Quote, QuoteRevision, QuoteState
from quotes.offers.rows import DraftRows, fingerprint, read_rows
from quotes.offers.snapshot import SCHEMA, snapshot_of
from quotes.pricing.engine import PricedQuote
from shared.audit.actions import record
from shared.conventions import today
from shared.dates import show_day
from shared.files.actions import keep_written, write_bytes
from shared.outbox.actions import Letter, post, withdraw
from shared.outbox.tasks import send_message
from shop.people.models import Person


@dataclass(frozen=True, slots=True)
class Cover:
    """The mail that the quote goes with."""

    to: str
    subject: str
    body: str
    seal: str = ""
    """The hash of the draft that the sender looked at; empty where nobody did."""


def send_quote(
    quote: Quote, cover: Cover, *, by: Person, at: dt.datetime
) -> QuoteRevision:
    """Freeze the draft as the next revision and put it in the outbox.

    Working out, drawing and printing happen outside any transaction; one short
    transaction then makes sure that nothing changed meanwhile, and stores revision,
    file row and message together.

    Raises
    ------
    CannotSendError
        When the draft is not ready, or changed while it was printed.
    """
    rows = read_rows(quote)
    seal = _seal(rows, seen=cover.seal)
    draft = draft_of(rows)
    priced = _ready(draft)
    letter = _letter(quote)
    valid_until = today(at) + dt.timedelta(days=quote.valid_days)
    snapshot = snapshot_of(
        draft, priced, letter=letter, sent_on=today(at), valid_until=valid_until
    )
    pdf = quote_pdf(snapshot)
    path, digest = write_bytes(pdf)
    with transaction.atomic():
        locked = Quote.objects.select_for_update().get(pk=quote.pk)
        if fingerprint(read_rows(locked)) != seal or _letter(locked) != letter:
            raise CannotSendError(
                "The draft was changed while it was being printed: look at it once more."
            )
        file = keep_written(
            path,
            digest=digest,
            size=len(pdf),
            name=f"{locked.number}{letter}.pdf",
            content_type="application/pdf",
        )
        _close_earlier(locked, by=by, at=at)
        revision = QuoteRevision.objects.create(
            quote=locked,
            letter=letter,
            snapshot=snapshot,
            schema=SCHEMA,
            draft_sha256=seal,
            pdf=file,
            total=Decimal(snapshot["price"]["gross"]),
            currency=snapshot["shop"]["currency"],
            valid_until=valid_until,
            sent_at=at,
            sent_by=by,
        )
        _mark_sent(locked, revision, by=by, at=at)
        mail = Letter(
            to=cover.to,
            subject=cover.subject,
            body=cover.body,
            reply_to=snapshot["shop"]["email"],
            attachment=file,
        )
        message = post(mail, about=locked, by=by, at=at)
        transaction.on_commit(partial(send_message.enqueue, str(message.pk)))
    return revision


def _seal(rows: DraftRows, *, seen: str) -> str:
    """Hash the draft; refuse one that is not what the sender looked at."""
    seal = fingerprint(rows)
    if seen and seen != seal:
        raise CannotSendError(
            "The draft was changed since this page was shown: look at the paper once"
            " more, then send it."
        )
    return seal


def _ready(draft: Draft) -> PricedQuote:
    if not draft.quote.is_changeable:
        raise CannotSendError(
            f"Quote {draft.quote.number} is {draft.quote.get_state_display()}."
        )
    if draft.trouble or draft.priced is None:
        raise CannotSendError(*draft.trouble or ("There is nothing to price yet.",))
    return draft.priced


def _letter(quote: Quote) -> str:
    """Return the letter of the next revision: A to Z, then AA and so on."""
    sent = quote.revisions.count()
    return "ABCDEFGHIJKLMNOPQRSTUVWXYZ"[sent % 26] * (sent // 26 + 1)


def _close_earlier(quote: Quote, *, by: Person, at: dt.datetime) -> None:
    for earlier in quote.revisions.unanswered():
        write_down(earlier, kind=AnswerKind.SUPERSEDED, by=by, at=at)
    withdraw(quote)


def _mark_sent(
    quote: Quote, revision: QuoteRevision, *, by: Person, at: dt.datetime
) -> None:
    quote.state = QuoteState.SENT
    quote.valid_until = revision.valid_until
    quote.save(update_fields=("state", "valid_until"))
    text = f"{revision.reference} sent, valid until {show_day(revision.valid_until)}."
    record(quote, verb="sent", text=text, by=by, at=at)
