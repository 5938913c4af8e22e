"""Sending freezes a draft: print outside any transaction, then store all or nothing."""

import datetime as dt
import hashlib
import threading
from concurrent.futures import ThreadPoolExecutor
from decimal import Decimal as D

import pytest
from django.core import mail
from django.db import IntegrityError, connection

from quotes.offers.actions import (
    CannotSendError,
    accept_quote,
    decline_quote,
    send_quote,
    start_quote,
    void_quote,
)
from quotes.offers.models import (
    Answer,
    AnswerKind,
    FreeLine,
    Quote,
    QuoteRevision,
    QuoteState,
)
from quotes.offers.rows import _all as sealed
from quotes.offers.rows import fingerprint, read_rows
from quotes.offers.tasks import lapse_due
from quotes.specs.models import PlannedPanel
from shared.audit.reports import log_of
from shared.models import DeliveryAttempt, Entry, Message, StoredFile
from shop.catalogue.models import Material, Operation
from shop.clients.models import ClientDetails, Site
from shop.people.models import ShopProfile
from shop.surveys.models import Opening, Reading, Room, Wall, Zone
from tests.factories.catalogue import mm
from tests.factories.clients import make_client
from tests.factories.offers import (
    AT,
    COVER,
    make_cafe,
    make_line,
    make_quote,
    make_room,
    make_rules,
    make_sent,
    make_survey,
    snapshot_of_draft,
)
from tests.factories.people import make_profile
from tests.factories.specs import make_spec, make_spec_operation

pytestmark = pytest.mark.django_db

KINDS = (QuoteRevision, StoredFile, Message, Answer)


def stored():
    return [kind.objects.count() for kind in KINDS]


@pytest.mark.usefixtures("quick_print")
class TestSent:
    def test_revision_file_and_message_belong_together(self, owner):
        revision = make_sent(by=owner)
        quote = revision.quote
        assert (revision.letter, quote.state) == ("A", QuoteState.SENT)
        assert revision.pdf.name == "Q2026-0001A.pdf"
        assert revision.pdf.sha256 == hashlib.sha256(revision.pdf.read()).hexdigest()
        message = Message.objects.get()
        assert message.attachment == revision.pdf
        assert (message.about_id, message.to) == (quote.pk, COVER.to)

    def test_it_is_valid_to_the_last_of_its_days(self, owner):
        revision = make_sent(by=owner, valid_days=14)
        assert revision.valid_until == dt.date(2026, 3, 16)
        assert revision.quote.valid_until == revision.valid_until
        assert revision.snapshot["quote"]["valid_until"] == "2026-03-16"

    def test_the_row_repeats_what_lists_need_of_the_snapshot(self, owner):
        make_rules()
        revision = make_sent(by=owner)
        price, shop = revision.snapshot["price"], revision.snapshot["shop"]
        assert str(D(revision.total)) == price["gross"]
        assert (revision.currency, revision.schema) == (shop["currency"], 1)

    def test_it_is_on_record(self, owner):
        revision = make_sent(by=owner)
        texts = [entry.text for entry in log_of(revision.quote)]
        assert texts[0] == "Q2026-0001A sent, valid until 1 April 2026."

    def test_b_replaces_a(self, owner):
        first = make_sent(by=owner)
        second = make_sent(by=owner, quote=first.quote)
        assert second.letter == "B"
        first.refresh_from_db()
        assert first.answer.kind == AnswerKind.SUPERSEDED
        assert second.answer is None
        assert accept_quote(first.quote, note="", by=owner, at=AT) == second

    def test_a_declined_or_lapsed_quote_can_go_out_again(self, owner):
        first = make_sent(by=owner)
        decline_quote(first.quote, note="Too dear.", by=owner, at=AT)
        first.quote.refresh_from_db()
        second = make_sent(by=owner, quote=first.quote)
        assert second.letter == "B"
        first.refresh_from_db()
        assert first.answer.kind == AnswerKind.DECLINED

    def test_letters_go_on_after_z(self, owner):
        quote = make_quote(by=owner, rooms=[])
        make_line(quote=quote, by=owner)
        letters = [make_sent(by=owner, quote=quote).letter for _ in range(28)]
        assert letters[25:] == ["Z", "AA", "BB"]
        assert len(set(letters)) == 28

    @pytest.mark.parametrize("settle", [accept_quote, void_quote])
    def test_a_settled_quote_is_not_sent(self, owner, settle):
        quote = make_sent(by=owner).quote
        settle(quote, note="", by=owner, at=AT)
        quote.refresh_from_db()
        before = stored()
        with pytest.raises(CannotSendError, match=str(quote.get_state_display())):
            send_quote(quote, COVER, by=owner, at=AT)
        assert stored() == before

    def test_a_draft_that_is_not_ready_says_everything_at_once(self, owner):
        client = make_client()
        quote = make_quote(by=owner, client=client, rooms=[make_room(client=client)])
        with pytest.raises(CannotSendError) as refused:
            send_quote(quote, COVER, by=owner, at=AT)
        assert len(refused.value.sentences) == 2
        assert stored() == [0, 0, 0, 0]


def change_panel():
    PlannedPanel.objects.all()[0].delete()


def change_scope():
    Quote.objects.update(scope="Something else")


def change_price():
    material = Material.objects.filter(kind="fabric")[0]
    material.pack_price += 1
    material.save()


CHANGES = {
    "a panel": change_panel,
    "the scope": change_scope,
    "a price": change_price,
    "a rate": lambda: Operation.objects.update(hourly_rate=D(99)),
    "a rule": lambda: make_rules(tax=None, profit_percent=D(41)),
    "a tax": lambda: make_rules(tax="19"),
    "the client": lambda: ClientDetails.objects.update(company="Other Ltd"),
    "the shop": lambda: ShopProfile.objects.update(how_to_pay="In cash"),
    "the site": lambda: Site.objects.update(year_built=1950),
    "the room": lambda: Room.objects.update(sleeping_or_basement=True),
    "a wall": lambda: Wall.objects.update(construction="glass"),
    "a zone": lambda: Zone.objects.update(kind="radiator"),
    "a reading": lambda: Reading.objects.update(text="1 m", ticks=320_000),
    "an opening": lambda: Opening.objects.update(must_open=True),
    "a line": lambda: FreeLine.objects.update(quantity=D(2)),
}


def draft_of_everything(by):
    """Return a small draft with a row of each kind that its paper comes from."""
    make_rules()
    make_profile()
    spec = make_spec()
    make_spec_operation(spec=spec)
    quote = make_quote(by=by, spec=spec)
    make_line(quote=quote, by=by)
    survey = make_survey(room=quote.rooms.get(), by=by)
    opening = Opening.objects.create(wall=survey.walls.all()[0])
    place = {"left": mm(1000), "bottom": mm(300), "width": mm(90), "height": mm(90)}
    ticks = {f"{name}_ticks": value for name, value in place.items()}
    Zone.objects.create(survey=survey, **ticks)
    Reading.objects.create(opening=opening, axis="width", place=1, ticks=320, text="1")
    return quote


class TestRecheck:
    """What changes between printing and storing is noticed, and nothing is kept."""

    @pytest.mark.parametrize("name", CHANGES)
    def test_a_change_meanwhile_stops_it(self, owner, monkeypatch, name):
        quote = draft_of_everything(owner)

        def change_meanwhile(snapshot):
            CHANGES[name]()
            return b"%PDF-"

        monkeypatch.setattr("quotes.offers.actions.sending.quote_pdf", change_meanwhile)
        with pytest.raises(CannotSendError, match="changed while it was being printed"):
            send_quote(quote, COVER, by=owner, at=AT)
        assert stored() == [0, 0, 0, 0]
        quote.refresh_from_db()
        assert (quote.state, quote.valid_until) == (QuoteState.DRAFT, None)

    def test_what_no_client_sees_does_not_stop_it(self, owner, monkeypatch):
        quote = make_quote(by=owner)

        def archive_meanwhile(snapshot):
            Room.objects.update(archived_at=AT)
            make_survey(room=make_room(name="Elsewhere"), by=owner)
            return b"%PDF-"

        monkeypatch.setattr(
            "quotes.offers.actions.sending.quote_pdf", archive_meanwhile
        )
        assert send_quote(quote, COVER, by=owner, at=AT).letter == "A"

    def test_of_two_that_send_the_same_draft_one_is_late(self, owner, monkeypatch):
        quote = make_quote(by=owner)

        def other_is_quicker(snapshot):
            monkeypatch.setattr(
                "quotes.offers.actions.sending.quote_pdf", lambda snapshot: b"%PDF-1"
            )
            send_quote(Quote.objects.get(pk=quote.pk), COVER, by=owner, at=AT)
            return b"%PDF-2"

        monkeypatch.setattr("quotes.offers.actions.sending.quote_pdf", other_is_quicker)
        with pytest.raises(CannotSendError, match="once more"):
            send_quote(quote, COVER, by=owner, at=AT)
        assert stored() == [1, 1, 1, 0]
        assert QuoteRevision.objects.get().pdf.read() == b"%PDF-1"

    def test_a_quote_accepted_while_it_was_printed_is_not_sent_again(
        self, owner, monkeypatch, quick_print
    ):
        quote = make_sent(by=owner).quote

        def accept_meanwhile(snapshot):
            accept_quote(quote, note="", by=owner, at=AT)
            return b"%PDF-"

        monkeypatch.setattr("quotes.offers.actions.sending.quote_pdf", accept_meanwhile)
        with pytest.raises(CannotSendError):
            send_quote(Quote.objects.get(pk=quote.pk), COVER, by=owner, at=AT)
        quote.refresh_from_db()
        assert (quote.state, quote.revisions.count()) == (QuoteState.ACCEPTED, 1)

    def test_every_material_and_operation_of_the_paper_is_sealed(self, owner):
        quote = make_cafe(by=owner)
        rows = list(sealed(read_rows(quote)))
        kept = snapshot_of_draft(quote)
        materials = {str(row.pk) for row in rows if isinstance(row, Material)}
        operations = {str(row.pk) for row in rows if isinstance(row, Operation)}
        uses = (build["operations"] for build in kept["builds"].values())
        used = {use["key"] for each in uses for use in each}
        assert set(kept["materials"]) <= materials
        assert used
        assert used <= operations

    def test_reading_twice_gives_the_same_hash(self, owner):
        quote = make_cafe(by=owner)
        hashes = {fingerprint(read_rows(Quote.objects.get(pk=quote.pk))) for _ in "ab"}
        assert len(hashes) == 1


@pytest.mark.usefixtures("quick_print")
class TestAllOrNothing:
    @pytest.mark.parametrize("step", ["post", "record", "keep_written"])
    def test_a_failure_stores_nothing(self, owner, monkeypatch, step):
        first = make_sent(by=owner)
        before = stored(), Entry.objects.count()

        def fail(*args, **kwargs):
            raise IntegrityError(step)

        monkeypatch.setattr(f"quotes.offers.actions.sending.{step}", fail)
        quote = Quote.objects.get(pk=first.quote_id)
        with pytest.raises(IntegrityError, match=step):
            send_quote(quote, COVER, by=owner, at=AT + dt.timedelta(days=1))
        assert (stored(), Entry.objects.count()) == before
        quote.refresh_from_db()
        assert quote.valid_until == first.valid_until


def at_once(act, *, times):
    """Do something in several threads, each with its own connection."""

    def one(_):
        try:
            return act()
        except CannotSendError as refused:
            return refused
        finally:
            connection.close()

    with ThreadPoolExecutor(times) as pool:
        return list(pool.map(one, range(times)))


@pytest.mark.django_db(transaction=True)
class TestOutsideTransactions:
    def test_it_is_printed_outside_any_transaction(self, owner, monkeypatch):
        seen = []

        def watch(snapshot):
            seen.append(connection.in_atomic_block)
            return b"%PDF-"

        monkeypatch.setattr("quotes.offers.actions.sending.quote_pdf", watch)
        make_sent(by=owner)
        assert seen == [False]

    def test_two_at_once_store_one_revision(self, owner, monkeypatch):
        quote = make_quote(by=owner)
        both_printed = threading.Barrier(2, timeout=20)

        def wait_for_the_other(snapshot):
            both_printed.wait()
            return b"%PDF-"

        monkeypatch.setattr(
            "quotes.offers.actions.sending.quote_pdf", wait_for_the_other
        )
        results = at_once(lambda: send_quote(quote, COVER, by=owner, at=AT), times=2)
        sent = [result for result in results if isinstance(result, QuoteRevision)]
        late = [result for result in results if isinstance(result, CannotSendError)]
        assert (len(sent), len(late)) == (1, 1)
        assert stored() == [1, 1, 1, 0]

    def test_numbers_given_at_once_have_no_gap(self, owner):
        client = make_client()
        at_once(lambda: start_quote(client, rooms=[], by=owner, at=AT), times=4)
        numbers = sorted(Quote.objects.values_list("number", flat=True))
        assert numbers == [f"Q2026-{n:04d}" for n in range(1, 5)]

    def test_the_mail_goes_out_with_the_paper(self, owner, quick_print, run_tasks):
        revision = make_sent(by=owner)
        assert mail.outbox == []
        run_tasks()
        (sent,) = mail.outbox
        assert (sent.to, sent.subject) == ([COVER.to], COVER.subject)
        assert sent.attachments == [
            ("Q2026-0001A.pdf", revision.pdf.read(), "application/pdf")
        ]
        message = Message.objects.get()
        assert message.state == "sent"
        assert DeliveryAttempt.objects.filter(message=message).count() == 1

    def test_what_was_not_stored_sends_no_mail(self, owner, monkeypatch, run_tasks):
        quote = make_quote(by=owner)

        def change(snapshot):
            change_scope()
            return b"%PDF-"

        monkeypatch.setattr("quotes.offers.actions.sending.quote_pdf", change)
        with pytest.raises(CannotSendError):
            send_quote(quote, COVER, by=owner, at=AT)
        run_tasks()
        assert mail.outbox == []

    def test_the_worker_lets_quotes_lapse(self, owner, quick_print, run_tasks):
        quote = make_sent(by=owner).quote  # long ago, by the clock on the wall
        lapse_due.enqueue()
        run_tasks()
        quote.refresh_from_db()
        assert quote.state == QuoteState.LAPSED


@pytest.mark.usefixtures("quick_print")
def test_free_lines_alone_can_be_sent(owner):
    quote = make_quote(by=owner, rooms=[])
    make_line(quote=quote, by=owner)
    revision = make_sent(by=owner, quote=quote)
    assert revision.snapshot["panels"] == []
    assert revision.total == D("120.00")
