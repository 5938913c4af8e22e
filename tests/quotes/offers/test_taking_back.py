"""A yes taken back: while nothing has come of it, on record, and the quote is out again."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone

from jobs.board.actions import mark_panels, move_panels, undo_moves
from jobs.board.models import Job, Mark, Panel, Stage
from jobs.visits.actions import DayHasMovedOnError, cancel_day, restore_day
from quotes.offers.actions import (
    CannotAnswerError,
    accept_quote,
    decline_quote,
    lapse_quotes,
    take_yes_back,
)
from quotes.offers.models import Answer, AnswerKind
from quotes.offers.rows import fingerprint, read_rows
from quotes.specs.models import PlannedPanel
from shared.audit.reports import log_of
from tests.factories.offers import AT, make_line, make_quote, make_sent
from tests.factories.visits import make_day
from tests.pages import soup, text

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop", "quick_print")]
LATER = AT + dt.timedelta(hours=1)


@pytest.fixture
def revision(owner):
    sent = make_sent(by=owner)
    accept_quote(sent.quote, note="By telephone", by=owner, at=AT)
    sent.quote.refresh_from_db()
    return sent


def back(revision, by, *, at=LATER, note="Meant the other quote"):
    take_yes_back(revision.quote, note=note, by=by, at=at)
    revision.quote.refresh_from_db()


def refused(revision, by):
    with pytest.raises(CannotAnswerError) as caught:
        back(revision, by)
    revision.quote.refresh_from_db()
    assert revision.quote.state == "accepted"
    assert Job.objects.get().state == "open"
    assert PlannedPanel.objects.filter(committed_at__isnull=False).count() == 2
    return str(caught.value)


class TestTakenBack:
    def test_the_quote_is_out_again_as_it_was_sent(self, owner, revision):
        back(revision, owner)
        assert revision.quote.state == "sent"
        assert list(revision.quote.revisions.unanswered()) == [revision]
        assert revision.answer is None
        assert not PlannedPanel.objects.filter(committed_at__isnull=False).exists()
        assert fingerprint(read_rows(revision.quote)) == revision.draft_sha256

    def test_all_of_it_is_on_record(self, owner, revision):
        back(revision, owner)
        kinds = [(a.number, a.kind, a.note) for a in revision.answers.all()]
        assert kinds == [
            (1, AnswerKind.ACCEPTED, "By telephone"),
            (2, AnswerKind.TAKEN_BACK, "Meant the other quote"),
        ]
        (job,) = Job.objects.all()
        assert job.is_taken_back
        assert Panel.objects.of_job(job).count() == 2
        assert any("was taken back" in line.text for line in log_of(job))
        assert any("yes taken back" in line.text for line in log_of(revision.quote))

    def test_a_second_yes_opens_another_job(self, owner, revision):
        back(revision, owner)
        accept_quote(revision.quote, note="Now", by=owner, at=LATER)
        first, second = Job.objects.order_by("opened_at")
        assert (first.state, second.state) == ("back", "open")
        assert first.code != second.code
        assert revision.answer.note == "Now"

    @pytest.mark.parametrize("answer", [decline_quote, None])
    def test_it_can_be_answered_otherwise_or_lapse(self, owner, revision, answer):
        back(revision, owner)
        if answer:
            answer(revision.quote, note="", by=owner, at=LATER)
        else:
            assert lapse_quotes(at=AT + dt.timedelta(days=40)) == 1
        assert Answer.objects.filter(revision=revision).count() == 3

    def test_it_can_be_sent_anew(self, owner, revision):
        back(revision, owner)
        second = make_sent(by=owner, quote=revision.quote, at=LATER)
        assert revision.answer.kind == AnswerKind.SUPERSEDED
        assert list(revision.quote.revisions.unanswered()) == [second]


class TestTheYesStands:
    def test_once_a_panel_was_moved(self, owner, revision):
        panel = Panel.objects.first()
        seen = [(panel.pk, "planned")]
        moved = move_panels(seen, to=Stage.BUILT, by=owner, at=LATER)
        assert refused(revision, owner) == f"The yes stands: {panel.code} is built."
        undo_moves(moved.batch, by=owner, at=LATER)
        back(revision, owner)

    @pytest.mark.parametrize("mark", list(Mark))
    def test_once_a_panel_is_marked(self, owner, revision, mark):
        panel = Panel.objects.first()
        mark_panels([panel.pk], mark=mark, now="fabric", by=owner, at=LATER)
        assert "is marked on the bench" in refused(revision, owner)

    def test_once_a_site_day_is_planned(self, owner, revision):
        day = make_day(by=owner, job=Job.objects.get())
        assert "has a site day" in refused(revision, owner)
        cancel_day(day, by=owner, at=LATER)
        back(revision, owner)
        with pytest.raises(DayHasMovedOnError):
            restore_day(day, by=owner, at=LATER)

    def test_what_is_not_accepted_has_no_yes(self, owner):
        quote = make_sent(by=owner).quote
        with pytest.raises(CannotAnswerError, match="is sent: there is no yes"):
            take_yes_back(quote, note="", by=owner, at=AT)

    def test_once_only(self, owner, revision):
        back(revision, owner)
        with pytest.raises(CannotAnswerError, match="no yes to take back"):
            back(revision, owner)


class TestItsPanelsRest:
    def test_they_are_neither_moved_nor_marked(self, owner, revision):
        back(revision, owner)
        panel = Panel.objects.first()
        move_panels([(panel.pk, "planned")], to=Stage.BUILT, by=owner, at=LATER)
        mark_panels([panel.pk], mark=Mark.CUT, now="yes", by=owner, at=LATER)
        panel.refresh_from_db()
        assert (panel.stage, panel.cut_at) == (Stage.PLANNED, None)
        assert Job.objects.get().is_taken_back

    def test_nor_measured(self, owner, client_as, revision):
        back(revision, owner)
        panel = Panel.objects.first()
        url, browser = panel.get_absolute_url(), client_as(owner)
        answer = browser.post(url, {"width": "600", "height": "1200"}, follow=True)
        assert "was taken back" in text(soup(answer).select_one("#messages"))
        panel.refresh_from_db()
        assert panel.measured_width_ticks is None

    def test_nor_planned_for_a_day(self, owner, client_as, revision):
        job = Job.objects.get()
        url = reverse("jobs:site-day-new") + f"?job={job.pk}"
        assert client_as(owner).get(url).status_code == 200
        back(revision, owner)
        assert client_as(owner).get(url).status_code == 404
        page = soup(client_as(owner).get(job.get_absolute_url()))
        assert "taken back" in text(page.select_one(".head"))


class TestPage:
    def url(self, name, quote):
        return reverse(f"quotes:{name}", args=(quote.pk,))

    def test_one_tap_with_a_note(self, owner, client_as):
        quote = make_quote(by=owner, rooms=[])
        make_line(quote=quote, by=owner)
        revision = make_sent(by=owner, quote=quote, at=timezone.now())
        accept_quote(quote, note="", by=owner, at=timezone.now())
        browser = client_as(owner)
        form = soup(browser.get(self.url("quote", quote))).select_one("#take-back form")
        assert text(form.button) == "Take the yes back"
        assert text(form.label).startswith("Why")
        typed = {"note": "Wrong client", "revision": form.select_one("[name=revision]")}
        typed["revision"] = typed["revision"]["value"]
        page = soup(browser.post(form["action"], typed, follow=True))
        assert "the quote is out again" in text(page.select_one("#messages"))
        assert "yes taken back" in text(page.main)
        assert "Wrong client" in text(page.main)
        assert "What did the client say?" in text(page.main)
        assert revision.answers.count() == 2

    def test_what_keeps_it_is_said_instead(self, owner, client_as, revision):
        panel = Panel.objects.first()
        move_panels([(panel.pk, "planned")], to=Stage.BUILT, by=owner, at=LATER)
        browser = client_as(owner)
        page = soup(browser.get(self.url("quote", revision.quote)))
        section = page.find(id="take-back")
        assert f"The yes stands: {panel.code} is built." in text(section)
        assert not section.find("form")
        answer = browser.post(self.url("quote-take-back", revision.quote), {"note": ""})
        assert answer.status_code == 422
        assert "The yes stands" in text(soup(answer).select_one("#form-errors"))
