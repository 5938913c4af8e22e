"""What becomes of a sent quote: yes, no, too late, void."""

import datetime as dt

import pytest
import time_machine
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.utils import timezone

from jobs.board.models import Job, Panel
from quotes.offers.actions import (
    CannotAnswerError,
    accept_quote,
    decline_quote,
    lapse_quotes,
    void_quote,
)
from quotes.offers.models import (
    Answer,
    AnswerKind,
    FreeLine,
    Quote,
    QuoteRevision,
    QuoteRoom,
    QuoteState,
)
from quotes.offers.slots import ON_ACCEPT
from quotes.offers.tasks import lapse_due
from quotes.specs.models import PlannedPanel
from shared.audit.reports import log_of
from shared.conventions import Conventions, using
from shared.models import LedgerIsAppendOnlyError
from shop.catalogue.models import Material
from shop.clients.models import ClientDetails
from shop.surveys.models import Room
from tests.factories.offers import AT, make_line, make_quote, make_sent

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("quick_print")]

DAY = dt.timedelta(days=1)
NEW_YORK = Conventions(time_zone="America/New_York")
LAST_MINUTE = dt.datetime(2026, 4, 2, 3, 59, 59, tzinfo=dt.UTC)
"""Of 1 April 2026 in New York, where summer time has begun."""


def accept(quote, by, at=AT):
    return accept_quote(quote, note="By telephone.", by=by, at=at)


class TestAccept:
    def test_it_opens_a_job_with_every_panel(self, owner):
        revision = make_sent(by=owner, panels=3)
        accept(revision.quote, owner)
        job = Job.objects.get()
        assert job.revision == revision
        planned = set(PlannedPanel.objects.values_list("pk", flat=True))
        assert {panel.planned_panel for panel in Panel.objects.all()} == planned

    def test_it_is_written_down_with_who_and_how(self, owner, office):
        revision = make_sent(by=owner)
        accept(revision.quote, office)
        answer = Answer.objects.get()
        assert (answer.kind, answer.by) == (AnswerKind.ACCEPTED, office)
        assert (answer.note, answer.at) == ("By telephone.", AT)
        revision.quote.refresh_from_db()
        assert revision.quote.state == QuoteState.ACCEPTED
        assert log_of(revision.quote)[0].text == "Q2026-0001A accepted."

    def test_its_panels_are_taken(self, owner):
        accept(make_sent(by=owner).quote, owner)
        assert not PlannedPanel.objects.uncommitted().exists()
        assert {p.committed_at for p in PlannedPanel.objects.all()} == {AT}

    def test_twice_is_refused(self, owner):
        quote = make_sent(by=owner).quote
        accept(quote, owner)
        with pytest.raises(CannotAnswerError, match="Q2026-0001 is accepted, not out"):
            accept(quote, owner)
        assert (Job.objects.count(), Answer.objects.count()) == (1, 1)

    def test_a_draft_can_not_be_accepted(self, owner):
        with pytest.raises(CannotAnswerError, match="is draft, not out"):
            accept(make_quote(by=owner), owner)

    def test_the_job_is_what_was_sent_whatever_changed_since(self, owner):
        revision = make_sent(by=owner)
        fabric = Material.objects.filter(kind="fabric").get()
        sent = revision.snapshot["materials"][str(fabric.pk)]
        Material.objects.update(name="Renamed", mass_g_m2=1, pack_price=1)
        ClientDetails.objects.update(name="Renamed")
        Room.objects.update(name="Renamed", archived_at=AT)
        PlannedPanel.objects.update(width_ticks=1, width_text="tiny")
        FreeLine.objects.all().delete()
        accept(revision.quote, owner)
        panel = Panel.objects.first()
        assert (panel.room_name, panel.fabric_name) == ("Front room", sent["name"])
        assert panel.width_ticks == 192_000
        assert panel.snapshot["materials"][str(fabric.pk)] == sent

    def test_a_panel_that_was_taken_out_since_comes_back(self, owner):
        quote = make_sent(by=owner, panels=3).quote
        PlannedPanel.objects.filter(pk=PlannedPanel.objects.first().pk).update(
            dropped_at=AT
        )
        accept(quote, owner)
        assert Panel.objects.count() == 3
        assert PlannedPanel.objects.live().count() == 3

    def test_a_panel_planned_since_is_left_for_another_quote(self, owner):
        quote = make_sent(by=owner).quote
        first = PlannedPanel.objects.first()
        PlannedPanel.objects.create(
            room=first.room,
            spec=first.spec,
            width_ticks=1000,
            width_text="3",
            height_ticks=1000,
            height_text="3",
        )
        accept(quote, owner)
        assert PlannedPanel.objects.uncommitted().count() == 1

    def test_of_two_quotes_on_the_same_panels_the_first_yes_wins(self, owner):
        first = make_sent(by=owner).quote
        rooms = first.rooms_in_order()
        twin = make_quote(by=owner, client=first.client, rooms=rooms)
        make_sent(by=owner, quote=twin)
        accept(first, owner)
        with pytest.raises(CannotAnswerError, match="in a job already"):
            accept(twin, owner)
        twin.refresh_from_db()
        assert (twin.state, Job.objects.count()) == (QuoteState.SENT, 1)

    def test_a_job_that_can_not_be_opened_leaves_the_quote_out(self, owner):
        quote = make_sent(by=owner).quote

        def fail(revision, by, at):
            raise IntegrityError("no job")

        ON_ACCEPT.add(fail)
        try:
            with pytest.raises(IntegrityError, match="no job"):
                accept(quote, owner)
        finally:
            ON_ACCEPT._functions.remove(fail)
        quote.refresh_from_db()
        assert quote.state == QuoteState.SENT
        assert not Answer.objects.exists()
        assert PlannedPanel.objects.uncommitted().count() == 2
        assert not Job.objects.exists()


class TestValidity:
    """Valid to the end of the last day as the shop's own clock shows it."""

    def test_accepted_in_the_last_minute(self, owner):
        with using(NEW_YORK):
            quote = make_sent(by=owner).quote
            assert quote.valid_until == dt.date(2026, 4, 1)
            accept(quote, owner, LAST_MINUTE)
        assert Job.objects.exists()

    def test_a_second_later_it_is_too_late(self, owner):
        with using(NEW_YORK):
            quote = make_sent(by=owner).quote
            with pytest.raises(CannotAnswerError, match=r"valid until 1 April 2026"):
                accept(quote, owner, LAST_MINUTE + dt.timedelta(seconds=1))
        assert not Job.objects.exists()

    @pytest.mark.parametrize(("seconds", "lapsed"), [(0, 0), (1, 1)])
    def test_it_lapses_at_the_shops_midnight(self, owner, seconds, lapsed):
        at = LAST_MINUTE + dt.timedelta(seconds=seconds)
        with using(NEW_YORK):
            quote = make_sent(by=owner).quote
            assert lapse_quotes(at=at) == lapsed
        quote.refresh_from_db()
        assert quote.state == (QuoteState.LAPSED if lapsed else QuoteState.SENT)

    @pytest.mark.parametrize(
        ("seconds", "state"), [(0, QuoteState.SENT), (1, QuoteState.LAPSED)]
    )
    def test_the_task_goes_by_the_shops_own_clock(self, owner, shop, seconds, state):
        shop.time_zone = "America/New_York"
        shop.save()
        quote = make_sent(by=owner).quote
        moment = LAST_MINUTE + dt.timedelta(seconds=seconds)
        with time_machine.travel(moment, tick=False):
            lapse_due.func()
        quote.refresh_from_db()
        assert quote.state == state

    def test_lapsing_twice_is_harmless_and_leaves_others_alone(self, owner):
        sent, draft = make_sent(by=owner).quote, make_quote(by=owner, panels=1)
        declined = make_sent(by=owner).quote
        decline_quote(declined, note="", by=owner, at=AT)
        late = AT + 40 * DAY
        assert (lapse_quotes(at=late), lapse_quotes(at=late)) == (1, 0)
        states = [Quote.objects.get(pk=q.pk).state for q in (sent, draft, declined)]
        assert states == [QuoteState.LAPSED, QuoteState.DRAFT, QuoteState.DECLINED]
        (lapse,) = (a for a in Answer.objects.all() if a.kind == AnswerKind.LAPSED)
        assert lapse.by is None
        assert log_of(sent)[0].who == ""

    def test_a_quote_accepted_while_others_lapse_stays_accepted(
        self, owner, monkeypatch
    ):
        quote = make_sent(by=owner).quote
        stale = list(Quote.objects.out_past(dt.date(2026, 5, 1)))
        accept(quote, owner)
        monkeypatch.setattr(
            "quotes.offers.actions.answering.Quote.objects.out_past", lambda day: stale
        )
        assert lapse_quotes(at=AT + 60 * DAY) == 0
        quote.refresh_from_db()
        assert quote.state == QuoteState.ACCEPTED


class TestDecline:
    def test_it_is_written_down_with_why(self, owner):
        revision = make_sent(by=owner)
        decline_quote(revision.quote, note="Too dear.", by=owner, at=AT)
        revision.quote.refresh_from_db()
        assert revision.quote.state == QuoteState.DECLINED
        assert Answer.objects.get().note == "Too dear."
        assert PlannedPanel.objects.uncommitted().count() == 2

    def test_a_quote_that_is_not_out_can_not_be_declined(self, owner):
        with pytest.raises(CannotAnswerError):
            decline_quote(make_quote(by=owner), note="", by=owner, at=AT)


class TestVoid:
    def test_a_draft_keeps_its_number(self, owner):
        quote = make_quote(by=owner)
        void_quote(quote, note="", by=owner, at=AT)
        quote.refresh_from_db()
        assert quote.state == QuoteState.VOID
        assert make_quote(by=owner, rooms=[]).number == "Q2026-0002"

    def test_what_was_out_is_void_too(self, owner):
        revision = make_sent(by=owner)
        void_quote(revision.quote, note="Wrong client.", by=owner, at=AT)
        assert revision.answer.kind == AnswerKind.VOID
        with pytest.raises(CannotAnswerError):
            accept(revision.quote, owner)

    def test_an_accepted_quote_stays(self, owner):
        quote = make_sent(by=owner).quote
        accept(quote, owner)
        with pytest.raises(CannotAnswerError, match="accepted and stays as it is"):
            void_quote(quote, note="", by=owner, at=AT)


class TestLedgers:
    @pytest.mark.parametrize("model", [QuoteRevision, Answer])
    def test_history_is_only_added_to(self, owner, model):
        accept(make_sent(by=owner).quote, owner)
        rows = model.objects.all()
        assert rows.exists()
        for change in (rows.delete, lambda: rows.update(id=None)):
            with pytest.raises(LedgerIsAppendOnlyError):
                change()
        with pytest.raises(LedgerIsAppendOnlyError):
            rows.bulk_update(list(rows), ["id"])


class TestConstraints:
    """Each rule that the database holds, broken once."""

    def broken(self, row, message):
        with pytest.raises(ValidationError, match=message):
            row.validate_constraints()
        with pytest.raises(IntegrityError), transaction.atomic():
            row.save()

    def test_a_state_is_one_of_those_known(self, owner):
        quote = make_quote(by=owner)
        quote.state = "lost"
        self.broken(quote, "state of the quote is not known")

    def test_a_discount_is_a_share(self, owner):
        quote = make_quote(by=owner)
        quote.discount_percent = 101
        self.broken(quote, "between 0 and 100 %")

    def test_a_sent_quote_has_an_end(self, owner):
        quote = make_quote(by=owner)
        quote.state = QuoteState.SENT
        self.broken(quote, "until when it is valid")

    def test_a_number_is_given_once(self, owner):
        quote = make_quote(by=owner)
        twin = Quote(number=quote.number, client=quote.client, made_by=owner)
        with pytest.raises(ValidationError, match="already exists"):
            twin.full_clean()
        with pytest.raises(IntegrityError), transaction.atomic():
            twin.save()

    def test_a_room_is_in_a_quote_once(self, owner):
        quote = make_quote(by=owner)
        self.broken(
            QuoteRoom(quote=quote, room=quote.rooms.get()), "already in this quote"
        )

    def test_a_line_makes_sense(self, owner):
        line = make_line(quote=make_quote(by=owner), by=owner)
        line.quantity = 0
        self.broken(line, "A line needs words")

    def test_a_letter_is_sent_once(self, owner):
        revision = make_sent(by=owner)
        revision._state.adding = True
        revision.pk = None
        self.broken(revision, "already sent")

    def test_an_answer_is_one_of_those_known(self, owner):
        revision = make_sent(by=owner)
        self.broken(
            Answer(revision=revision, kind="maybe", at=timezone.now()), "not one of"
        )

    def test_a_revision_has_one_answer(self, owner):
        revision = make_sent(by=owner)
        decline_quote(revision.quote, note="", by=owner, at=AT)
        with pytest.raises(IntegrityError), transaction.atomic():
            Answer.objects.create(revision=revision, kind="accepted", at=AT)
