"""Gates set up, passed, gone past, dropped, shut again, and all of it undone."""

import datetime as dt

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from jobs.board.actions import CannotUndoError
from jobs.board.models import Job
from jobs.gates.actions import (
    STANDS,
    GateMovedOnError,
    Seen,
    drop_gate,
    override_gate,
    pass_gate,
    set_up_gates,
    shut_again,
    undo_entry,
)
from jobs.gates.models import Gate, GateEntry, GateState
from jobs.gates.reports import lots_of
from jobs.gates.taking_back import deposit_keeps_yes
from quotes.offers.actions import CannotAnswerError, accept_quote, take_yes_back
from shared.audit.reports import log_of
from shared.models import LedgerIsAppendOnlyError
from tests.factories.clients import make_client
from tests.factories.gates import gate_of, make_waiting_job
from tests.factories.jobs import AT, tiny_snapshot
from tests.factories.offers import AT as OFFERED
from tests.factories.offers import make_sent

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]
LATER = AT + dt.timedelta(hours=2)
SIGNED = Seen(code="hm-12", colour="moss", dye_lot="L7", reference="paper in folder")


@pytest.fixture
def job(owner):
    return make_waiting_job(by=owner)


def stands(gate):
    gate = Gate.objects.get(pk=gate.pk)
    return {name: getattr(gate, name) for name in STANDS}


def whole(gate):
    """Return how a gate stands and why, as the database has it."""
    said = Gate.objects.with_said().get(pk=gate.pk).reason
    return stands(gate) | {"reason": said or ""}


WAYS = {"over": override_gate, "dropped": drop_gate, "shut": shut_again, "pass": None}
WORDS = st.text("abc", min_size=1, max_size=3)


def go(gate, way, word, *, by):
    asked = {"seen": stands(gate)["state"], "by": by, "at": LATER}
    if way == "pass":
        return pass_gate(gate, Seen(word, word, word, word), **asked)
    return WAYS[way](gate, reason=word, **asked)


def passed(gate, by, *, what=SIGNED, seen="shut", at=LATER, **more):
    return pass_gate(gate, what, seen=seen, by=by, at=at, **more)


class TestSetUp:
    def test_once_and_on_record(self, owner, job):
        assert [g.kind for g in job.gates.in_asking_order()] == [
            "deposit",
            "fabric",
            "measure",
        ]
        assert set_up_gates(job, by=owner, at=LATER) == ()
        said = [line.text for line in log_of(job)]
        assert said[0] == (
            f"{job.code} waits for: deposit, fabric signed for, second measure."
        )
        assert job.gates.count() == 3

    def test_what_is_missing_is_added_and_what_was_said_stays(self, owner, job):
        passed(gate_of(job, "deposit"), owner)
        gate_of(job, "measure").delete()
        (new,) = set_up_gates(job, by=owner, at=LATER)
        assert new.kind == "measure"
        assert gate_of(job, "deposit").state == GateState.PASSED

    def test_fabrics_that_the_catalogue_lost_share_one(self, owner):
        client = make_client()
        made = tiny_snapshot(client_id=client.pk)
        job = make_waiting_job(by=owner, client=client, gates=False)
        job.revision.snapshot = made
        (gate,) = set_up_gates(job, by=owner, at=AT)
        assert (gate.kind, gate.material) == ("fabric", None)
        assert set_up_gates(job, by=owner, at=AT) == ()

    def test_a_yes_sets_them_up_in_one_go(self, owner, monkeypatch):
        monkeypatch.setattr(
            "quotes.offers.actions.sending.quote_pdf", lambda snapshot: b"%PDF-1.7"
        )
        sent = make_sent(by=owner)
        accept_quote(sent.quote, note="", by=owner, at=OFFERED)
        job = Job.objects.get()
        fabrics = {group["fabric"] for group in sent.snapshot["groups"].values()}
        gates = job.gates.of_kind("fabric")
        assert {str(gate.material_id) for gate in gates} == fabrics
        assert gate_of(job, "deposit").is_shut


class TestPassing:
    def test_a_fabric_keeps_what_was_signed(self, owner, job):
        gate = gate_of(job, "fabric")
        entry = passed(gate, owner)
        found = gate_of(job, "fabric")
        assert (found.code, found.colour, found.dye_lot) == ("hm-12", "moss", "L7")
        assert (found.state, found.by, found.since) == ("passed", owner, LATER)
        assert (entry.was, entry.now) == ("shut", "passed")
        assert lots_of([job]) == {(job.pk, gate.material_id): "L7"}

    def test_it_can_be_corrected_and_that_undone(self, owner, job):
        gate = gate_of(job, "fabric")
        passed(gate, owner)
        again = passed(
            gate, owner, what=Seen(code="hm-12", colour="moss", dye_lot="L8"),
            seen="passed",
        )  # fmt: skip
        assert lots_of([job.pk]) == {(job.pk, gate.material_id): "L8"}
        undo_entry(again, by=owner, at=LATER)
        assert lots_of([job.pk]) == {(job.pk, gate.material_id): "L7"}

    @pytest.mark.parametrize("lacks", ["code", "colour"])
    def test_a_fabric_without_code_or_colour_is_refused_whole(self, owner, job, lacks):
        gate = gate_of(job, "fabric")
        before = stands(gate)
        what = Seen(**{"code": "c", "colour": "d", "dye_lot": "L1"} | {lacks: ""})
        with pytest.raises(ValidationError, match="by its code and colour"):
            passed(gate, owner, what=what)
        assert stands(gate) == before
        assert not GateEntry.objects.exists()

    def test_whoever_comes_second_is_told(self, owner, office, job):
        gate = gate_of(job, "deposit")
        passed(gate, owner)
        with pytest.raises(GateMovedOnError, match="Deposit: in hand by now"):
            override_gate(gate, reason="r", seen="shut", by=office, at=LATER)
        assert gate_of(job, "deposit").state == GateState.PASSED

    def test_a_job_taken_back_waits_for_nothing(self, owner, job):
        Job.objects.update(state="back")
        with pytest.raises(GateMovedOnError, match="was taken back"):
            passed(gate_of(job, "deposit"), owner)


class TestGoingPast:
    def test_needs_a_reason_which_is_told_everywhere(self, owner, job):
        gate = gate_of(job, "deposit")
        with pytest.raises(ValidationError, match="can't wait"):
            override_gate(gate, reason="", seen="shut", by=owner, at=LATER)
        override_gate(gate, reason="Old client", seen="shut", by=owner, at=LATER)
        found = gate_of(job, "deposit")
        assert found.past_words == "gone past by Ada on 2 March 2026: Old client"
        assert log_of(job)[0].text == (
            "Deposit: gone past, on somebody's word. Old client"
        )

    def test_what_came_after_all_ends_it(self, owner, job):
        gate = gate_of(job, "deposit")
        override_gate(gate, reason="Old client", seen="shut", by=owner, at=AT)
        passed(gate, owner, what=Seen(reference="bank"), seen="over")
        assert gate_of(job, "deposit").past_words == ""


class TestUndo:
    def test_of_a_dropped_gate_waits_again(self, owner, job):
        gate = gate_of(job, "measure")
        before = stands(gate)
        entry = drop_gate(gate, reason="no trim", seen="shut", by=owner, at=LATER)
        assert not gate_of(job, "measure").is_shut
        undo_entry(entry, by=owner, at=LATER)
        assert stands(gate) == before

    def test_only_of_what_was_said_last(self, owner, job):
        gate = gate_of(job, "deposit")
        first = passed(gate, owner)
        shut_again(gate, reason="bounced", seen="passed", by=owner, at=LATER)
        with pytest.raises(CannotUndoError):
            undo_entry(first, by=owner, at=LATER)
        assert gate_of(job, "deposit").is_shut

    @given(
        st.lists(
            st.tuples(st.sampled_from(sorted(WAYS)), WORDS), min_size=1, max_size=4
        )
    )
    @settings(
        max_examples=20, suppress_health_check=[HealthCheck.function_scoped_fixture]
    )
    def test_gives_exactly_what_stood_before_and_can_be_undone(self, owner, job, steps):
        gate = gate_of(job, "fabric")
        for way, word in steps:
            if way != "pass" and stands(gate)["state"] == way:
                continue  # it stands so already
            before, earlier = whole(gate), gate.entries.first()
            entry = go(gate, way, word, by=owner)
            after = whole(gate)
            undone = undo_entry(entry, by=owner, at=LATER)
            assert whole(gate) == before
            undo_entry(undone, by=owner, at=LATER)
            assert whole(gate) == after
            if earlier:
                with pytest.raises(CannotUndoError):
                    undo_entry(earlier, by=owner, at=LATER)

    def test_what_stands_so_already_is_not_said_twice(self, owner, job):
        gate = gate_of(job, "deposit")
        with pytest.raises(GateMovedOnError, match="waiting already"):
            shut_again(gate, reason="r", seen="shut", by=owner, at=LATER)

    def test_history_is_only_added_to(self, owner, job):
        passed(gate_of(job, "deposit"), owner)
        with pytest.raises(LedgerIsAppendOnlyError):
            GateEntry.objects.all().delete()


class TestTakingTheYesBack:
    def test_a_deposit_in_hand_keeps_it(self, owner, job):
        job.revision.quote.state = "accepted"
        job.revision.quote.save()
        gate = gate_of(job, "deposit")
        passed(gate, owner)
        with pytest.raises(CannotAnswerError, match="deposit"):
            take_yes_back(job.revision.quote, note="", by=owner, at=LATER)
        job.refresh_from_db()
        assert job.is_open
        assert "Pay it back" in deposit_keeps_yes(job.revision)
        shut_again(gate, reason="paid back", seen="passed", by=owner, at=LATER)
        passed(gate_of(job, "fabric"), owner)
        take_yes_back(job.revision.quote, note="", by=owner, at=LATER)
        job.refresh_from_db()
        assert job.is_taken_back


class TestConstraints:
    @pytest.mark.parametrize(
        ("kind", "change", "name"),
        [
            ("deposit", {"kind": "moon"}, "choices_known"),
            ("deposit", {"state": "moon"}, "choices_known"),
            ("deposit", {"state": "passed"}, "open_since"),
            (
                "fabric",
                {"state": "passed", "since": AT, "code": "x", "colour": ""},
                "fabric_named",
            ),
            ("measure", {"kind": "deposit"}, "gate_once|job_id, jobs_gate.kind"),
        ],
    )
    def test_of_a_gate(self, job, kind, change, name):
        rows = Gate.objects.filter(pk=gate_of(job, kind).pk)
        with pytest.raises(IntegrityError, match=name), transaction.atomic():
            rows.update(**change)

    def test_a_fabric_stands_once_in_a_job(self, job):
        gate = gate_of(job, "fabric")
        with pytest.raises(IntegrityError), transaction.atomic():
            Gate.objects.create(job=job, kind="fabric", material=gate.material)

    def test_an_override_in_history_has_its_reason(self, owner, job):
        gate = gate_of(job, "deposit")
        with pytest.raises(IntegrityError, match="has_reason"), transaction.atomic():
            GateEntry.objects.create(gate=gate, was="shut", now="over", at=AT, by=owner)
