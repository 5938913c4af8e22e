"""Put mail in the outbox, and hand it to the mail server, each attempt on record."""

from __future__ import annotations

import contextlib
import datetime as dt
import smtplib
import uuid
from dataclasses import dataclass
from typing import Any

from django.conf import settings
from django.core.mail import EmailMessage, get_connection
from django.core.mail.backends.base import BaseEmailBackend
from django.db import transaction
from django.db.models import Model

from shared.files.models import StoredFile
from shared.outbox.models import DeliveryAttempt, Message, MessageState

BACK_OFF = tuple(dt.timedelta(minutes=minutes) for minutes in (1, 5, 30, 120))
"""How long to wait after each failure; after the last one a person has to look."""

ERRORS = (smtplib.SMTPException, OSError, ValueError)
"""What can go wrong while a message is handed over."""

UNSURE = (
    smtplib.SMTPServerDisconnected,
    TimeoutError,
    ConnectionResetError,
    ConnectionAbortedError,
    BrokenPipeError,
)
"""Errors after which the mail server may have taken the message all the same."""

HELD = dt.timedelta(minutes=15)
"""Longer than a delivery takes: whoever holds a message for longer has died."""


@dataclass(frozen=True, slots=True)
class Letter:
    """What is to be sent, and to whom."""

    to: str
    subject: str
    body: str
    reply_to: str = ""
    attachment: StoredFile | None = None


def post(letter: Letter, *, about: Model, by: Any, at: dt.datetime) -> Message:
    """Store a message to be sent; call it inside the action's transaction.

    Line breaks in the subject are refused by the mail library; they are folded here so
    that nothing typed can add a header.
    """
    host = settings.DEFAULT_FROM_EMAIL.rpartition("@")[2].strip(" >") or "localhost"
    return Message.objects.create(
        message_id=f"<{uuid.uuid4()}@{host}>",
        to=letter.to,
        reply_to=letter.reply_to,
        subject=" ".join(letter.subject.split())[:200],
        body=letter.body,
        attachment=letter.attachment,
        about_kind=about._meta.model_name or "",
        about_id=about.pk,
        by=by,
        next_try_at=at,
    )


def deliver(message_id: uuid.UUID, *, at: dt.datetime) -> MessageState | None:
    """Hand one message to the mail server; nothing if somebody else has it.

    The claim is committed before the server is spoken to, and its answer after: a worker
    that dies between leaves the message "being sent", which `release_held` turns into
    "unknown". So does a connection that breaks once it stands; one that never stood took
    nothing, and is tried again.
    """
    if not Message.objects.claim(message_id, at=at):
        return None
    message = Message.objects.select_related("attachment").get(pk=message_id)
    try:
        email = _email(message)
        email.connection = connection = get_connection()
        connection.open()
    except ERRORS as error:
        return _failed(message, reason=type(error).__name__, at=at)
    return _hand_over(message, email, connection, at=at)


def _hand_over(
    message: Message,
    email: EmailMessage,
    connection: BaseEmailBackend,
    *,
    at: dt.datetime,
) -> MessageState:
    """Send over the open connection, and write down what came of it."""
    state, reason = MessageState.SENT, ""
    try:
        email.send()
    except UNSURE as error:
        state, reason = MessageState.UNKNOWN, type(error).__name__
    except ERRORS as error:
        return _failed(message, reason=type(error).__name__, at=at)
    finally:
        # the mail has gone or not by now, whatever the farewell comes to
        with contextlib.suppress(*ERRORS):
            connection.close()
    _write_down(message, state, at=at, reason=reason)
    return state


def _email(message: Message) -> EmailMessage:
    email = EmailMessage(
        subject=message.subject,
        body=message.body,
        to=[message.to],
        reply_to=[message.reply_to] if message.reply_to else None,
        headers={"Message-ID": message.message_id},
    )
    if message.attachment:
        file = message.attachment
        email.attach(file.name, file.read(), file.content_type)
    return email


def _failed(message: Message, *, reason: str, at: dt.datetime) -> MessageState:
    tries = message.attempts.count()
    if tries < len(BACK_OFF):
        message.next_try_at = at + BACK_OFF[tries]
        state = MessageState.WAITING
    else:
        state = MessageState.FAILED
    _write_down(message, state, at=at, reason=reason)
    return state


@transaction.atomic
def _write_down(
    message: Message, state: MessageState, *, at: dt.datetime, reason: str
) -> None:
    message.state = state
    message.sent_at = at if state == MessageState.SENT else None
    message.save(update_fields=("state", "sent_at", "next_try_at"))
    outcome = MessageState.SENT if state == MessageState.SENT else MessageState.FAILED
    if state == MessageState.UNKNOWN:
        outcome = state
    DeliveryAttempt.objects.create(
        message=message, at=at, outcome=outcome, reason=reason
    )


def deliver_due(*, at: dt.datetime) -> int:
    """Deliver every message whose time has come; give how many were sent."""
    due = tuple(Message.objects.due(at).values_list("pk", flat=True))
    outcomes = [deliver(pk, at=at) for pk in due]
    return outcomes.count(MessageState.SENT)


def release_held(*, at: dt.datetime) -> int:
    """Call "unknown" what a dead worker was sending: a person decides on sending again."""
    held = list(Message.objects.held_since(at - HELD))
    for message in held:
        _write_down(message, MessageState.UNKNOWN, at=at, reason="the worker died")
    return len(held)


def send_again(message: Message, *, at: dt.datetime) -> None:
    """Put a message that failed, or may have, back among those to be sent."""
    if message.state in (MessageState.FAILED, MessageState.UNKNOWN):
        message.state = MessageState.WAITING
        message.next_try_at = at
        message.save(update_fields=("state", "next_try_at"))


def withdraw(about: Model) -> int:
    """Keep back what has not gone yet about a record; call it inside the transaction."""
    count: int = (
        Message.objects.waiting().about(about).update(state=MessageState.WITHDRAWN)
    )
    return count
