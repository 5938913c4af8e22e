"""Mail is stored first and sent after; each attempt is on record."""

import datetime as dt

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
