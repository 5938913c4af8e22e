"""What a person looked at is what is sent and answered; a paper that is replaced stays."""

import datetime as dt
from dataclasses import replace

import pytest
from django.urls import reverse

from jobs.board.models import Job
from quotes.offers.actions import (
    CannotAnswerError,
    CannotSendError,
    accept_quote,
    decline_quote,
    drop_line,
    lapse_quotes,
    put_line,
    send_quote,
    void_quote,
)
from quotes.offers.models import FreeLine, Quote, QuoteRevision, QuoteState
from quotes.offers.rows import fingerprint, read_rows
from shared.outbox.models import Message, MessageState
from tests.factories.offers import AT, COVER, make_line, make_quote, make_sent

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("quick_print")]


def fresh(row):
    return type(row).objects.get(pk=row.pk)


def test_a_yes_to_a_revision_that_was_replaced_meanwhile_is_refused(owner):
    first = make_sent(by=owner)
    send_quote(fresh(first.quote), COVER, by=owner, at=AT)
    with pytest.raises(CannotAnswerError, match="sent meanwhile"):
        accept_quote(first.quote, note="", by=owner, at=AT, seen=first.pk)
    with pytest.raises(CannotAnswerError, match="sent meanwhile"):
        decline_quote(first.quote, note="", by=owner, at=AT, seen=first.pk)
    assert not Job.objects.exists()


def test_the_page_says_which_revision_is_answered(client_as, owner, shop, time_machine):
    time_machine.move_to(AT)
    first = make_sent(by=owner)
    page = client_as(owner)
    url = reverse("quotes:quote-accept", args=(first.quote_id,))
    assert str(first.pk) in page.get(first.quote.get_absolute_url()).content.decode()
    second = send_quote(fresh(first.quote), COVER, by=owner, at=AT)
    assert page.post(url, {"note": "", "revision": str(first.pk)}).status_code == 422
    assert page.post(url, {"note": "", "revision": "junk"}).status_code == 422
    assert page.post(url, {"note": "", "revision": str(second.pk)}).status_code == 302
    assert Job.objects.get().revision == second


def test_a_draft_that_changed_since_it_was_looked_at_is_not_sent(owner):
    quote = make_quote(by=owner)
    seen = fingerprint(read_rows(quote))
    make_line(quote=quote, by=owner)
    with pytest.raises(CannotSendError, match="changed since this page"):
        send_quote(quote, replace(COVER, seal=seen), by=owner, at=AT)
    assert not QuoteRevision.objects.exists()


def test_the_refused_page_shows_the_draft_anew_and_then_it_goes(client_as, owner, shop):
    quote = make_quote(by=owner)
    url = reverse("quotes:quote-send", args=(quote.pk,))
    page = client_as(owner)
    seen = page.get(url).context["form"]["seal"].value()
    make_line(quote=quote, by=owner)
    mail = {"to": COVER.to, "subject": COVER.subject, "body": COVER.body}
    refused = page.post(url, {**mail, "seal": seen})
    assert refused.status_code == 422
    again = refused.context["form"]["seal"].value()
    assert page.post(url, {**mail, "seal": again}).status_code == 302


def test_mail_that_waits_is_withdrawn_when_the_next_revision_is_sent(owner):
    first = make_sent(by=owner)
    send_quote(fresh(first.quote), COVER, by=owner, at=AT)
    states = Message.objects.order_by("created_at").values_list("state", flat=True)
    assert list(states) == [MessageState.WITHDRAWN, MessageState.WAITING]


def test_mail_that_waits_is_withdrawn_when_the_quote_is_voided(owner):
    revision = make_sent(by=owner)
    void_quote(fresh(revision.quote), note="", by=owner, at=AT)
    assert Message.objects.get().state == MessageState.WITHDRAWN


def test_a_replaced_paper_is_not_sent_again(client_as, owner, shop):
    first = make_sent(by=owner)
    Message.objects.update(state=MessageState.FAILED)
    failed = Message.objects.get()
    send_quote(fresh(first.quote), COVER, by=owner, at=AT)
    client_as(owner).post(reverse("quotes:mail-again", args=(failed.pk,)))
    assert fresh(failed).state == MessageState.FAILED


def test_a_quote_sent_again_while_lapses_are_looked_up_stays_out(owner, monkeypatch):
    revision = make_sent(by=owner)
    late = AT + dt.timedelta(days=60)
    quote = fresh(revision.quote)
    send_quote(quote, COVER, by=owner, at=late)
    monkeypatch.setattr(
        "quotes.offers.models.QuoteQuerySet.out_past", lambda self, day: [quote]
    )
    assert lapse_quotes(at=late) == 0
    assert fresh(quote).state == QuoteState.SENT


def test_a_stale_form_does_not_bring_a_line_back(owner):
    quote = make_quote(by=owner)
    line = make_line(quote=quote, by=owner)
    stale = FreeLine.objects.get(pk=line.pk)
    drop_line(line, by=owner, at=AT)
    stale.text = "Take down old boards, twice"
    put_line(stale, by=owner, at=AT)
    assert fresh(line).dropped_at == AT
    assert Quote.objects.get().free_lines.live().count() == 0
