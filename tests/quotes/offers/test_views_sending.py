"""Sending, answering, and forms of a quote that was settled meanwhile."""

import pytest
from django.urls import reverse

from quotes.offers.actions import (
    CannotSendError,
    accept_quote,
    drop_line,
    void_quote,
)
from quotes.offers.models import Answer, FreeLine, QuoteRevision
from shared.models import Message
from tests.factories.clients import make_client, make_site
from tests.factories.offers import (
    AT,
    make_line,
    make_quote,
    make_room,
    make_sent,
    make_survey,
)
from tests.pages import BAD_TEXTS, refused, soup, text

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop", "quick_print")]

TERMS = {"scope": "All of it.", "discount_percent": "5", "valid_days": "30"}
LINE = {"text": "Paint", "kind": "labour", "quantity": "2", "unit_price": "30"}
MAIL = {"to": "mara@example.org", "subject": "Your quote", "body": "Here it is."}
BAD_MAILS = [
    *(
        ("to", bad)
        for bad in (
            "",
            "mara",
            "a@b.org, c@d.org",
            "a@b.org;c@d.org",
            f"{'x' * 250}@example.org",
            "mara@exam\0ple.org",
        )
    ),
    *(("subject", bad) for bad in ("", *BAD_TEXTS, "x" * 201)),
    *(("body", bad) for bad in ("", *BAD_TEXTS, "x" * 8001)),
]


def of(name, row):
    return reverse(f"quotes:{name}", args=(row.pk,))


def messages(response):
    return text(soup(response).select_one("#messages"))


class TestSend:
    @pytest.mark.parametrize(("field", "typed"), BAD_MAILS)
    def test_what_is_no_mail_is_refused(self, owner, client_as, field, typed):
        quote = make_quote(by=owner)
        refused(client_as(owner), of("quote-send", quote), MAIL | {field: typed}, field)
        assert not Message.objects.exists()

    def test_the_mail_is_proposed(self, owner, client_as, shop):
        quote = make_quote(by=owner)
        page = soup(client_as(owner).get(of("quote-send", quote)))
        assert page.select_one("[name=to]")["value"] == "mara@example.org"
        subject = page.select_one("[name=subject]")["value"]
        assert subject == f"Quote {quote.number} from {shop.name}"
        body = text(page.select_one("[name=body]"))
        assert "2 panels in Front room" in body

    def test_it_is_sent_and_said(self, owner, client_as):
        quote = make_quote(by=owner)
        response = client_as(owner).post(of("quote-send", quote), MAIL, follow=True)
        revision = QuoteRevision.objects.get()
        assert f"{revision.reference} is in the outbox" in messages(response)
        assert Message.objects.get().body == "Here it is."
        assert "What did the client say?" in text(soup(response).main)

    def test_what_is_not_ready_keeps_the_mail(self, owner, client_as):
        client = make_client(email="mara@example.org")
        quote = make_quote(by=owner, client=client, rooms=[])
        response = client_as(owner).post(of("quote-send", quote), MAIL)
        assert response.status_code == 422
        page = soup(response)
        assert "nothing to offer yet" in text(page.select_one("#form-errors"))
        assert text(page.select_one("[name=body]")) == "Here it is."
        assert not Message.objects.exists()

    def test_a_change_meanwhile_keeps_the_mail(self, owner, client_as, monkeypatch):
        quote = make_quote(by=owner)

        def late(*args, **kwargs):
            raise CannotSendError("The draft was changed while it was being printed.")

        monkeypatch.setattr("quotes.offers.views.sending.send_quote", late)
        response = client_as(owner).post(of("quote-send", quote), MAIL)
        assert response.status_code == 422
        assert "changed while" in text(soup(response).select_one("#form-errors"))

    def test_cautions_are_shown_before_it_goes(self, owner, client_as):
        site = make_site(client=make_client(email="m@example.org"), year_built=1931)
        room = make_room(site=site)
        make_survey(room=room, by=owner)
        quote = make_quote(by=owner, client=site.client, rooms=[room])
        page = soup(client_as(owner).get(of("quote-send", quote)))
        assert "Old paint" in text(page.main)

    def test_the_paper_comes_as_it_was_sent(self, owner, client_as):
        revision = make_sent(by=owner)
        response = client_as(owner).get(of("quote-pdf", revision))
        assert response["Content-Type"] == "application/pdf"
        assert response["Content-Disposition"] == 'inline; filename="Q2026-0001A.pdf"'
        assert response["Cache-Control"] == "private, no-store"
        assert response.content == revision.pdf.read()

    def test_a_draft_can_be_looked_at(self, owner, client_as):
        quote = make_quote(by=owner)
        response = client_as(owner).get(of("quote-preview", quote))
        assert response.content.startswith(b"%PDF-")
        assert not QuoteRevision.objects.exists()

    def test_a_mail_that_failed_goes_back_in_the_outbox(self, owner, client_as):
        revision = make_sent(by=owner)
        Message.objects.update(state="failed")
        message = Message.objects.get()
        page = soup(client_as(owner).get(revision.quote.get_absolute_url()))
        assert page.select_one(f'form[action="{of("mail-again", message)}"]')
        client_as(owner).post(of("mail-again", message))
        message.refresh_from_db()
        assert message.state == "waiting"


class TestAnswer:
    @pytest.mark.parametrize("name", ["quote-accept", "quote-decline", "quote-void"])
    @pytest.mark.parametrize("typed", [*BAD_TEXTS, "x" * 301])
    def test_a_note_that_is_none_is_refused(self, owner, client_as, name, typed):
        quote = make_sent(by=owner).quote
        refused(client_as(owner), of(name, quote), {"note": typed}, "note")
        assert not Answer.objects.exists()

    @pytest.mark.parametrize(
        ("name", "kind"),
        [
            ("quote-accept", "accepted"),
            ("quote-decline", "declined"),
            ("quote-void", "void"),
        ],
    )
    def test_it_is_written_down(self, owner, client_as, name, kind, monkeypatch):
        monkeypatch.setattr(
            "quotes.offers.actions.answering.today", lambda at: AT.date()
        )
        quote = make_sent(by=owner).quote
        response = client_as(owner).post(
            of(name, quote), {"note": "By mail."}, follow=True
        )
        assert messages(response)
        assert (Answer.objects.get().kind, Answer.objects.get().note) == (
            kind,
            "By mail.",
        )

    def test_too_late_is_said_on_the_page(self, owner, client_as):
        quote = make_sent(by=owner).quote  # half a year ago
        response = client_as(owner).post(of("quote-accept", quote), {"note": "Yes!"})
        assert response.status_code == 422
        page = soup(response)
        assert "was valid until" in text(page.select_one("#form-errors"))
        assert page.select_one("[name=note]")["value"] == "Yes!"

    def test_a_second_yes_changes_nothing(self, owner, client_as):
        quote = make_sent(by=owner).quote
        accept_quote(quote, note="", by=owner, at=AT)
        response = client_as(owner).post(of("quote-accept", quote), {"note": ""})
        assert response.status_code == 422
        assert "is accepted, not out" in text(soup(response).main)
        assert Answer.objects.count() == 1


class TestSettled:
    """A page that stayed open while the quote was settled elsewhere."""

    @pytest.mark.parametrize(
        ("name", "typed", "field"),
        [
            ("quote-change", TERMS, "scope"),
            ("quote-rooms", {}, ""),
            ("line-new", LINE, "text"),
            ("quote-send", MAIL, "body"),
        ],
    )
    def test_its_forms_are_gone_and_what_was_typed_is_kept(
        self, owner, client_as, name, typed, field
    ):
        quote = make_quote(by=owner)
        void_quote(quote, note="", by=owner, at=AT)
        browser, url = client_as(owner), of(name, quote)
        assert browser.get(url).status_code == 404
        response = browser.post(url, typed)
        assert response.status_code == 422
        page = soup(response)
        assert "is void" in text(page.select_one("#form-errors"))
        if field:
            control = page.select_one(f"[name={field}]")
            assert typed[field] in (control.get("value"), text(control))

    def test_a_line_of_it_stays(self, owner, client_as):
        quote = make_quote(by=owner)
        line = make_line(quote=quote, by=owner)
        void_quote(quote, note="", by=owner, at=AT)
        response = client_as(owner).post(of("line-remove", line), follow=True)
        assert "stays as it is" in messages(response)
        assert FreeLine.objects.live().exists()

    def test_a_line_taken_out_stays_out(self, owner, client_as):
        quote = make_quote(by=owner)
        line = make_line(quote=quote, by=owner)
        drop_line(line, by=owner, at=AT)
        assert client_as(owner).post(of("line-change", line), LINE).status_code == 404
