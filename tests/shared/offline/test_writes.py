"""Each write counts once, in its order, and what is not taken is told in a sentence."""

import datetime as dt
import uuid

import pytest
from django.db import DatabaseError

from shared.offline import actions, batch
from shared.offline.models import FieldVersion, Write
from tests.devices import write
from tests.shared.offline.conftest import notes

AT = dt.datetime(2026, 3, 2, 10, 0, tzinfo=dt.UTC)


def test_a_write_is_stored_and_echoes_its_key(pad, fitter, send):
    item = write(pad, "beam at 2 m")
    (answer,) = send(fitter, item)
    assert answer == {
        "key": item["key"],
        "status": "stored",
        "version": 1,
        "value": "beam at 2 m",
    }
    assert notes(pad) == "beam at 2 m"
    version = FieldVersion.objects.get()
    assert (version.version, version.value, version.by) == (1, "beam at 2 m", fitter)


def test_a_repeat_gets_the_first_answer_and_changes_nothing(pad, fitter, send):
    first, second = write(pad, "one"), write(pad, "two", base=1, was="one")
    send(fitter, first, second)
    (answer,) = send(fitter, first)
    assert answer == {
        "key": first["key"],
        "status": "repeat",
        "version": 1,
        "value": "one",
    }
    assert notes(pad) == "two"
    assert Write.objects.count() == 2


def test_what_was_refused_stays_refused_when_it_is_repeated(pad, fitter, send):
    item = write(pad, "refuse")
    assert send(fitter, item) == send(fitter, item)
    assert Write.objects.get().status == "refused"


def test_a_key_asks_for_one_thing(pad, fitter, send):
    item = write(pad, "one")
    send(fitter, item)
    (answer,) = send(fitter, item | {"value": "two"})
    assert answer["status"] == "refused"
    assert notes(pad) == "one"


def test_nobody_learns_what_somebody_else_was_answered(pad, fitter, owner, send):
    item = write(pad, "one")
    send(fitter, item)
    (answer,) = send(owner, item)
    assert answer["status"] == "refused"
    assert "value" not in answer


def test_a_refusal_undoes_what_the_handler_did_and_says_why(pad, fitter, send):
    (answer,) = send(fitter, write(pad, "refuse"))
    assert (answer["status"], answer["sentence"]) == ("refused", "Not this.")
    assert notes(pad) == ""
    assert FieldVersion.objects.get().version == 0


def test_a_handler_may_say_that_it_is_not_theirs(pad, fitter, send):
    (answer,) = send(fitter, write(pad, "forbid"))
    assert (answer["status"], notes(pad)) == ("refused", "")


def test_a_role_without_the_right_is_refused(pad, maker, send):
    (answer,) = send(maker, write(pad, "one"))
    assert answer["status"] == "refused"
    assert "yours" in answer["sentence"]
    assert notes(pad) == ""


def test_a_fault_keeps_nothing_and_asks_to_try_again(pad, fitter, send):
    item = write(pad, "break")
    (answer,) = send(fitter, item)
    assert answer["status"] == "retry"
    assert notes(pad) == ""
    assert not Write.objects.exists()
    assert not FieldVersion.objects.exists()


def test_no_change_without_its_key(pad, fitter, send, monkeypatch):
    def fail(**row):
        raise DatabaseError

    with monkeypatch.context() as broken:
        broken.setattr(Write.objects, "create", fail)
        item = write(pad, "one")
        assert send(fitter, item)[0]["status"] == "retry"
        assert notes(pad) == ""
    assert send(fitter, item)[0]["status"] == "stored"


def test_the_same_key_twice_at_once_is_stored_once(pad, fitter, monkeypatch):
    item = batch.read_item(write(pad, "one"))
    actions.store(item, by=fitter, at=AT)
    # As it looks to the one that asks while the other has not ended yet.
    answers = [None]
    look = actions._before
    monkeypatch.setattr(
        actions, "_before", lambda asked: answers.pop() if answers else look(asked)
    )
    assert actions.store(item, by=fitter, at=AT)["status"] == "repeat"
    assert Write.objects.count() == 1
    assert FieldVersion.objects.get().version == 1


def test_a_lane_waits_behind_what_failed_and_others_go_on(pad, fitter, send):
    other = f"pad:{uuid.uuid4()}"
    answers = send(
        fitter,
        write(pad, "one"),
        write(pad, "break", field="more"),
        write(pad, "three", field="more"),
        write(pad, "refuse", lane=other, op="nothing"),
    )
    assert [a["status"] for a in answers] == ["stored", "retry", "retry", "refused"]
    assert notes(pad) == "one"


def test_a_refusal_blocks_nothing_behind_it(pad, fitter, send):
    answers = send(fitter, write(pad, "refuse"), write(pad, "fine"))
    assert [a["status"] for a in answers] == ["refused", "stored"]


def test_an_op_that_is_not_known_is_refused(pad, fitter, send):
    for odd in ({"op": "fly"}, {"field": "owner"}, {"lane": f"car:{pad.pk}"}):
        (answer,) = send(fitter, write(pad, "one", **odd))
        assert answer["status"] == "refused"
    assert notes(pad) == ""


@pytest.mark.parametrize(
    "made_at",
    [
        "2026-03-01T10:00:00Z",
        "2036-01-01T00:00:00Z",
        "yesterday",
        None,
        7,
        "0001-01-01T00:00:00+14:00",
    ],
)
def test_the_devices_clock_changes_nothing(pad, fitter, send, made_at):
    (answer,) = send(fitter, write(pad, "one", made_at=made_at))
    assert answer["status"] == "stored"
    assert abs(Write.objects.get().at - dt.datetime.now(dt.UTC)) < dt.timedelta(hours=1)


class TestSchema:
    """This version of an item and the one before are read."""

    @pytest.mark.parametrize(
        ("schema", "status"),
        [(3, "stored"), (2, "stored"), (1, "refused"), (4, "retry"), ("3", "refused")],
    )
    def test_what_is_read(self, pad, fitter, send, monkeypatch, schema, status):
        monkeypatch.setattr(batch, "SCHEMA", 3)
        (answer,) = send(fitter, write(pad, "one", schema=schema))
        assert answer["status"] == status
        assert notes(pad) == ("one" if status == "stored" else "")

    def test_an_item_of_the_version_before_has_no_needs(self, pad, fitter, send):
        item = write(pad, "one", schema=batch.SCHEMA - 1)
        assert "needs" not in item
        assert send(fitter, item)[0]["status"] == "stored"

    def test_what_is_older_than_that_is_told_so(self, pad, fitter, send):
        (answer,) = send(fitter, write(pad, "one", schema=batch.SCHEMA - 2))
        assert answer["status"] == "refused"
        assert "too old" in answer["sentence"]


class TestNeeds:
    """A write about what another write makes waits for that one, and falls with it."""

    def test_it_is_stored_after_what_it_needs(self, pad, fitter, send):
        first = write(pad, "one", field="more")
        second = write(pad, "two", needs=first["key"])
        statuses = [answer["status"] for answer in send(fitter, first, second)]
        assert statuses == ["stored", "stored"]
        assert notes(pad) == "two"

    def test_it_waits_for_what_has_not_arrived(self, pad, fitter, send):
        first = write(pad, "one", field="more")
        second = write(pad, "two", needs=first["key"])
        (answer,) = send(fitter, second)
        assert answer["status"] == "retry"
        assert answer["sentence"] == "What this belongs to has not arrived yet."
        assert notes(pad) == ""
        assert not Write.objects.exists()
        send(fitter, first)
        assert send(fitter, second)[0]["status"] == "stored"

    def test_it_is_refused_with_what_it_needs(self, pad, fitter, send):
        first = write(pad, "refuse", field="more")
        second = write(pad, "two", needs=first["key"])
        answers = send(fitter, first, second)
        assert [answer["status"] for answer in answers] == ["refused", "refused"]
        assert answers[1]["sentence"] == "What this belongs to was not taken."
        assert notes(pad) == ""

    def test_it_waits_when_what_it_needs_met_a_fault(self, pad, fitter, send):
        other = f"pad:{uuid.uuid4()}"
        first = write(pad, "break", lane=f"pad:{pad.pk}")
        second = write(pad, "two", lane=other, needs=first["key"])
        statuses = [answer["status"] for answer in send(fitter, first, second)]
        assert statuses == ["retry", "retry"]
