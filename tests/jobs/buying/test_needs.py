"""What a job needs: from its frozen panels, its cut plans, and what is measured later."""

import datetime as dt
import uuid
from decimal import Decimal
from functools import partial

import pytest

from jobs.board.actions import Typed, measure_panel
from jobs.board.models import JobState, Panel
from jobs.buying.actions.needs import (
    note_needs,
    note_needs_of_plan,
    refresh_needs,
)
from jobs.buying.actions.uses import book_cut
from jobs.buying.following import follow_measure
from jobs.buying.models import JobNeed, NeedSource
from jobs.buying.reports import needs as worked
from jobs.buying.reports.jobs import job_material
from jobs.cutting.models import CutKind, CutPlan, CutPlanPanel, CutState
from jobs.cutting.slots import StockUse
from quotes.offers.slots import ON_ACCEPT
from shared.audit.reports import log_of
from shop.catalogue.actions.stock import move_stock
from shop.catalogue.models import Material, StockReason
from tests.factories.clients import make_client
from tests.factories.jobs import (
    AT,
    full_snapshot,
    make_full_job,
    make_job,
    make_revision,
)
from tests.jobs.buying.stores import fill_stores

pytestmark = pytest.mark.django_db

LATER = AT + dt.timedelta(hours=1)


@pytest.fixture
def stores(shop, owner):
    """The materials that the frozen panels name, in the stores under the same codes."""
    return fill_stores(by=owner)


@pytest.fixture
def a_job(stores, owner):
    return partial(make_full_job, by=owner)


def needs_of(job):
    rows = JobNeed.objects.of_job(job).with_rows()
    return {row.material.code: row for row in rows}


def make_plan(material, panels, *, state=CutState.PLANNED, pieces=7, by):
    plan = CutPlan.objects.create(
        number=CutPlan.objects.count() + 1,
        kind=CutKind.SHEETS,
        material=material,
        state=state,
        result={"plan": {}},
        pieces_used=pieces,
        planned_at=AT,
        asked_at=AT,
        asked_by=by,
    )
    for panel in panels:
        CutPlanPanel.objects.create(plan=plan, panel=panel)
    return plan


@pytest.fixture
def takes(monkeypatch):
    """Say how many sheets each plan takes, in place of a whole frozen plan."""
    said = {}
    monkeypatch.setattr(worked, "new_stock", lambda plan: said[plan.pk])
    return said


def test_a_job_needs_what_its_panels_take_in_the_stores_own_counts(a_job):
    job = a_job()
    assert note_needs(job, at=AT)
    found = needs_of(job)
    assert found["frame-ply"].quantity == 1
    assert found["frame-ply"].quantity % 1 == 0
    assert found["wool"].quantity % 1 == 0
    assert found["front-fabric"].quantity * 10 % 1 == 0
    assert found["eye-bolt"].quantity % 1 == 0
    assert all(row.how for row in found.values())


def test_cloth_is_never_less_than_its_area_over_the_roll(a_job):
    job = a_job(kinds=(("wall-panel", 600, 1200, 12),))
    note_needs(job, at=AT)
    cloth = Material.objects.get(code="front-fabric")
    least = Decimal("0.6") * Decimal("1.2") * 12 / (Decimal(cloth.width_ticks) / 320000)
    assert needs_of(job)["front-fabric"].quantity > least


def test_nothing_changes_where_nothing_did(a_job):
    job = a_job()
    note_needs(job, at=AT)
    assert not note_needs(job, at=LATER)
    assert {row.at for row in needs_of(job).values()} == {AT}


def test_a_larger_measure_needs_more(a_job, maker):
    job = a_job(kinds=(("wall-panel", 600, 1200, 6),))
    note_needs(job, at=AT)
    before = needs_of(job)["front-fabric"].quantity
    for panel in Panel.objects.of_job(job):
        panel.measured_width_ticks = 900 * 320
        panel.measured_height_ticks = 1500 * 320
        panel.save()
    follow_measure(panel, maker, LATER)
    assert needs_of(job)["front-fabric"].quantity > before


def test_a_job_that_is_done_keeps_what_stands_there(a_job):
    job = a_job()
    job.state = JobState.DONE
    job.save()
    assert not note_needs(job, at=AT)


def test_a_material_that_left_the_stores_is_told_and_not_counted(a_job):
    Material.objects.filter(code="wool").update(code="felt")
    job = a_job()
    note_needs(job, at=AT)
    assert "wool" not in needs_of(job)
    assert "Not in the stores" in str(list(log_of(job)))


def test_a_cut_plan_counts_in_place_of_the_average(a_job, owner, takes):
    job = a_job(kinds=(("wall-panel", 600, 1200, 30),))
    note_needs(job, at=AT)
    ply = Material.objects.get(code="frame-ply")
    plan = make_plan(ply, Panel.objects.of_job(job), by=owner)
    takes[plan.pk] = {ply.pk: Decimal(9)}
    note_needs_of_plan(plan, at=LATER)
    need = needs_of(job)["frame-ply"]
    assert (need.quantity, need.source) == (9, NeedSource.PLAN)
    plan.state = CutState.REPLACED
    plan.save()
    note_needs_of_plan(plan, at=LATER)
    assert needs_of(job)["frame-ply"].source == NeedSource.TAKEOFF


def test_a_plan_of_several_jobs_is_shared_and_no_sheet_is_lost(a_job, owner, takes):
    jobs = [a_job(kinds=(("wall-panel", 600, 1200, count),)) for count in (1, 2, 4)]
    ply = Material.objects.get(code="frame-ply")
    panels = Panel.objects.of_jobs(jobs)
    plan = make_plan(ply, panels, by=owner)
    takes[plan.pk] = {ply.pk: Decimal(5)}
    note_needs_of_plan(plan, at=LATER)
    shares = [needs_of(job)["frame-ply"].quantity for job in jobs]
    assert sum(shares) == 5
    assert shares == sorted(shares)


def test_what_was_cut_before_a_plan_was_made_anew_is_needed_and_used(
    a_job, owner, takes
):
    job = a_job(kinds=(("wall-panel", 600, 1200, 30),))
    ply = Material.objects.get(code="frame-ply")
    panels = list(Panel.objects.of_job(job))
    old = make_plan(ply, panels, by=owner)
    move = move_stock(ply, Decimal(-2), StockReason.USED, by=owner, at=AT)
    book_cut(old, (StockUse(ply, Decimal(2), move),))
    old.state = CutState.REPLACED
    old.save()
    plan = make_plan(ply, panels, by=owner)
    takes[plan.pk] = {ply.pk: Decimal(7)}
    note_needs_of_plan(plan, at=LATER)
    assert needs_of(job)["frame-ply"].quantity == 9
    (row,) = [
        row for row in job_material(job, today=AT.date()).rows if row.material == ply
    ]
    assert (row.used, row.left) == (2, 7)


def test_panels_outside_a_plan_go_by_the_average(a_job, owner, takes):
    job = a_job(kinds=(("wall-panel", 600, 1200, 30),))
    ply = Material.objects.get(code="frame-ply")
    note_needs(job, at=AT)
    whole = needs_of(job)["frame-ply"].quantity
    plan = make_plan(ply, list(Panel.objects.of_job(job))[:1], by=owner)
    takes[plan.pk] = {ply.pk: Decimal(1)}
    note_needs_of_plan(plan, at=LATER)
    need = needs_of(job)["frame-ply"]
    assert whole <= need.quantity <= whole + 1
    assert "for the rest" in need.how


def test_the_round_catches_what_nobody_noted(a_job):
    job = a_job()
    assert refresh_needs(at=AT) == 1
    assert needs_of(job)
    assert refresh_needs(at=LATER) == 0


def test_a_need_is_more_than_nothing(a_job):
    job = a_job()
    row = JobNeed(job=job, material_id=uuid.uuid4(), quantity=Decimal(0), at=AT)
    with pytest.raises(Exception, match="more than nothing"):
        row.validate_constraints()


def test_a_yes_notes_what_its_job_needs(stores, owner):
    client = make_client()
    snapshot = full_snapshot(client_id=client.pk)
    revision = make_revision(client=client, by=owner, snapshot=snapshot)
    for follow in ON_ACCEPT:
        follow(revision, owner, AT)
    assert JobNeed.objects.of_open_jobs().exists()


def test_what_can_not_be_read_stops_nobody(shop, owner):
    """A panel whose frozen part holds no takeoff can be measured all the same."""
    panel = Panel.objects.of_job(make_job(by=owner)).first()
    size = Typed(640 * 320, "640")
    measure_panel(panel, width=size, height=size, by=owner, at=AT)
    panel.refresh_from_db()
    assert panel.measured_width_text == "640"
    assert not JobNeed.objects.exists()
