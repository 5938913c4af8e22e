"""Mail is stored first and sent after; each attempt is on record."""

import datetime as dt
import smtplib

import pytest
from django.core import mail

from shared.files.actions import keep
from shared.outbox.actions import (
    BACK_OFF,
    HELD,
    Letter,
    deliver,
    deliver_due,
    post,
    release_held,
    send_again,
)
from shared.outbox.models import DeliveryAttempt, Message, MessageState

pytestmark = pytest.mark.django_db
AT = dt.datetime(2026, 3, 2, 9, 0, tzinfo=dt.UTC)


@pytest.fixture
def message(owner):
    file = keep(b"%PDF-1.7", name="Q-1.pdf", content_type="application/pdf")
    letter = Letter(
        to="mara@example.org", subject="Your quote", body="…", attachment=file
    )
    return post(letter, about=owner, by=owner, at=AT)


@pytest.fixture
def dead_server(monkeypatch):
    def refuse(self, *args, **kwargs):
        raise ConnectionRefusedError

    monkeypatch.setattr("django.core.mail.EmailMessage.send", refuse)


def state(message):
    return Message.objects.get(pk=message.pk).state


def test_a_message_goes_with_its_attachment_and_a_stable_id(message):
    assert deliver(message.pk, at=AT) == MessageState.SENT
    sent = mail.outbox[0]
    assert sent.extra_headers["Message-ID"] == message.message_id
    assert sent.attachments[0][:2] == ("Q-1.pdf", b"%PDF-1.7")


def test_a_sent_message_is_not_sent_again(message):
    deliver(message.pk, at=AT)
    assert deliver(message.pk, at=AT) is None
    assert len(mail.outbox) == 1


def test_each_attempt_is_on_record(message, dead_server):
    deliver(message.pk, at=AT)
    attempt = DeliveryAttempt.objects.get()
    assert (attempt.outcome, attempt.reason) == ("failed", "ConnectionRefusedError")


def test_a_failure_is_tried_again_later_and_later_and_then_given_up(
    message, dead_server
):
    at = AT
    for pause in BACK_OFF:
        assert deliver(message.pk, at=at) == MessageState.WAITING
        assert deliver_due(at=at) == 0
        at += pause
    assert deliver(message.pk, at=at) == MessageState.FAILED
    assert DeliveryAttempt.objects.count() == len(BACK_OFF) + 1


def test_what_is_due_is_sent(message):
    assert deliver_due(at=AT) == 1
    assert state(message) == MessageState.SENT


def test_a_message_held_by_a_dead_worker_becomes_unknown_and_can_be_sent_again(message):
    Message.objects.claim(message.pk, at=AT)
    assert release_held(at=AT + HELD + dt.timedelta(seconds=1)) == 1
    assert state(message) == MessageState.UNKNOWN
    send_again(Message.objects.get(pk=message.pk), at=AT)
    assert deliver(message.pk, at=AT) == MessageState.SENT


def test_a_message_that_is_being_sent_is_left_alone(message):
    Message.objects.claim(message.pk, at=AT)
    assert release_held(at=AT + dt.timedelta(minutes=1)) == 0
    assert deliver(message.pk, at=AT) is None


def test_a_subject_with_line_breaks_adds_no_header(owner):
    letter = Letter(to="mara@example.org", subject="Hi\r\nBcc: x@example.org", body="")
    message = post(letter, about=owner, by=owner, at=AT)
    deliver(message.pk, at=AT)
    assert mail.outbox[0].subject == "Hi Bcc: x@example.org"


def test_a_sent_message_cannot_be_sent_again_by_hand(message):
    deliver(message.pk, at=AT)
    send_again(Message.objects.get(pk=message.pk), at=AT)
    assert state(message) == MessageState.SENT


def broken_by(monkeypatch, method, error):
    def fail(self, *args, **kwargs):
        raise error

    monkeypatch.setattr(f"django.core.mail.backends.locmem.EmailBackend.{method}", fail)


@pytest.mark.parametrize(
    "error",
    [
        smtplib.SMTPServerDisconnected("Connection unexpectedly closed"),
        TimeoutError(),
        ConnectionResetError(),
    ],
)
def test_what_the_server_may_have_taken_is_left_to_a_person(
    message, monkeypatch, error
):
    broken_by(monkeypatch, "send_messages", error)
    assert deliver(message.pk, at=AT) == MessageState.UNKNOWN
    assert deliver_due(at=AT + dt.timedelta(days=1)) == 0
    assert state(message) == MessageState.UNKNOWN
    attempt = DeliveryAttempt.objects.get()
    assert (attempt.outcome, attempt.reason) == ("unknown", type(error).__name__)


@pytest.mark.parametrize(
    ("method", "error"),
    [
        ("open", TimeoutError()),
        ("open", smtplib.SMTPServerDisconnected("please run connect() first")),
        ("open", ConnectionRefusedError()),
        ("send_messages", smtplib.SMTPDataError(451, b"try again later")),
        ("send_messages", smtplib.SMTPSenderRefused(450, b"busy", "a@example.org")),
    ],
)
def test_what_the_server_cannot_have_taken_is_tried_again(
    message, monkeypatch, method, error
):
    broken_by(monkeypatch, method, error)
    assert deliver(message.pk, at=AT) == MessageState.WAITING
    assert DeliveryAttempt.objects.get().outcome == "failed"


def test_a_farewell_that_fails_does_not_unsend_a_message(message, monkeypatch):
    broken_by(monkeypatch, "close", smtplib.SMTPResponseException(421, b"bye"))
    assert deliver(message.pk, at=AT) == MessageState.SENT
