"""What shut gates hold up, by act, material and panel, in one query."""

import uuid

import pytest

from jobs.board.actions import move_panels
from jobs.board.models import Stage
from jobs.gates.actions import Seen, drop_gate, override_gate, pass_gate
from jobs.gates.engine import Act
from jobs.gates.reports import held_up, holding
from tests.factories.catalogue import make_fabric, make_fill
from tests.factories.gates import gate_of, make_waiting_job
from tests.factories.jobs import AT

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]


def kinds(gates):
    return [gate.kind for gate in gates]


@pytest.fixture
def cloth():
    return make_fabric()


@pytest.fixture
def fill():
    return make_fill()


@pytest.fixture
def job(owner, cloth, fill):
    return make_waiting_job(
        by=owner,
        cloths=[(cloth, 2), (make_fabric(), 1)],
        fill=fill,
        tenure="tenant",
    )


def test_every_act_is_held_by_what_concerns_it(job):
    held = {act.value: kinds(holding([job], act)[job.pk]) for act in Act}
    both = ["fabric", "fabric"]
    assert held == {
        "buy_wood": ["deposit", "landlord"],
        "buy_cloth": ["deposit", *both, "landlord", "fire", "fire"],
        "buy_other": ["deposit", "landlord", "fire"],
        "cut_wood": ["deposit", "measure", "landlord"],
        "cut_cloth": ["deposit", *both, "measure", "landlord", "fire", "fire", "fire"],
    }


def test_of_one_material_only_what_holds_that_up(job, cloth, fill):
    held = held_up([job])
    of_cloth = held.shut(job, Act.BUY_CLOTH, material=cloth.pk)
    assert kinds(of_cloth) == ["deposit", "fabric", "landlord", "fire"]
    assert {gate.material_id for gate in of_cloth} == {None, cloth.pk}
    assert kinds(held.shut(job, Act.BUY_OTHER, material=fill.pk)) == [
        "deposit",
        "landlord",
        "fire",
    ]
    screws = held.shut(job.pk, Act.BUY_OTHER, material=uuid.uuid4())
    assert kinds(screws) == ["deposit", "landlord"]
    assert holding([job], Act.BUY_CLOTH, material=cloth.pk)[job.pk] == of_cloth


def test_a_second_measure_holds_only_panels_whose_opening_is_not_read(job, owner):
    wall, *_, reveal = job.panels.all()
    held = held_up([job])
    assert "measure" in kinds(held.shut(job, Act.CUT_WOOD, panel=reveal))
    assert "measure" not in kinds(held.shut(job, Act.CUT_WOOD, panel=wall))
    move_panels([(reveal.pk, "planned")], to=Stage.MEASURED, by=owner, at=AT)
    assert gate_of(job, "measure").is_shut
    assert "measure" not in kinds(holding([job], Act.CUT_WOOD)[job.pk])


def test_open_gates_hold_nothing_and_those_gone_past_are_told(job, owner):
    asked = {"seen": "shut", "by": owner, "at": AT}
    pass_gate(gate_of(job, "deposit"), Seen(reference="bank"), **asked)
    drop_gate(gate_of(job, "measure"), reason="no trim", **asked)
    override_gate(gate_of(job, "landlord"), reason="On the phone", **asked)
    held = held_up([job])
    assert held.shut(job, Act.CUT_WOOD) == ()
    (past,) = held.gone_past(job, Act.CUT_WOOD)
    assert past.past_words == "gone past by Ada on 2 March 2026: On the phone"
    assert past.why_held(Act.CUT_WOOD).startswith("If the landlord says no")


def test_each_job_asked_for_is_answered_in_one_query(owner, count_queries):
    jobs = [make_waiting_job(by=owner) for _ in range(2)]
    free = make_waiting_job(by=owner, gates=False)

    def ask(jobs):
        held = held_up([*jobs, free.pk])
        for job in jobs:
            for gate in held.shut(job, Act.CUT_CLOTH):
                assert gate.title
                assert gate.job.client
            assert held.gone_past(job, Act.CUT_CLOTH) == ()
        assert held.shut(free, Act.BUY_WOOD) == ()

    assert count_queries(lambda: ask(jobs)) == 1
    jobs += [make_waiting_job(by=owner) for _ in range(18)]
    assert count_queries(lambda: ask(jobs)) == 1
    assert set(holding(jobs, Act.BUY_WOOD)) == {job.pk for job in jobs}
