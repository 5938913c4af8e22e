"""What to buy, netted from rows: stores, orders, drafts, gates, dye lots, days."""

import datetime as dt
from decimal import Decimal

import pytest

from jobs.buying.reports import rows
from jobs.buying.reports.jobs import job_material, promises
from jobs.buying.reports.tobuy import to_buy
from jobs.gates.models import Gate, GateKind, GateState
from shop.catalogue.actions.stock import move_stock
from shop.catalogue.models import StockLevel, StockReason
from shop.catalogue.reports.stock import standing
from tests.factories.buying import make_need, make_order, make_order_line
from tests.factories.catalogue import (
    make_fabric,
    make_hardware,
    make_sheet,
    make_supplier,
)
from tests.factories.jobs import AT, make_job

pytestmark = pytest.mark.django_db

TODAY = AT.date()


@pytest.fixture
def yard(shop):
    return make_supplier(name="Yard", lead_days=4)


@pytest.fixture
def ply(yard):
    return make_sheet(name="Ply", supplier=yard)


@pytest.fixture
def job(owner):
    return wanted(make_job(by=owner), 30)


def wanted(job, in_days):
    job.wanted_by = TODAY + dt.timedelta(days=in_days)
    job.save()
    return job


def lines():
    return to_buy(today=TODAY).lines


def lay_in(material, quantity, by, lot=""):
    move_stock(
        material, Decimal(quantity), StockReason.DELIVERED, lot=lot, by=by, at=AT
    )


def test_needs_less_what_lies_there_and_what_comes(job, ply, yard, owner):
    make_need(job=job, material=ply, quantity=10)
    lay_in(ply, 3, owner)
    placed = make_order(supplier=yard, placed=True)
    make_order_line(order=placed, material=ply, packs=2, arrived=1)
    draft = make_order(supplier=yard)
    make_order_line(order=draft, material=ply, packs=1)
    (line,) = lines()
    assert line.buy.short == 10 - 3 - 1 - 1
    assert line.packs_words == "5 sheets"
    assert line.cost == 5 * 48


def test_an_order_called_off_brings_nothing(job, ply, yard):
    make_need(job=job, material=ply, quantity=2)
    order = make_order(supplier=yard, state="off")
    make_order_line(order=order, material=ply)
    assert [line.buy.short for line in lines()] == [2]


def test_the_day_is_the_wanted_day_less_bench_lead_and_spare(job, ply):
    make_need(job=job, material=ply)
    (line,) = lines()
    at_bench = job.wanted_by - dt.timedelta(days=rows.BENCH_DAYS)
    assert line.buy.needed_on == at_bench
    assert line.buy.order_by == at_bench - dt.timedelta(days=4 + 2)


def test_a_planned_install_day_counts_before_the_wish(job, ply, monkeypatch):
    day = TODAY + dt.timedelta(days=12)
    monkeypatch.setattr(rows, "install_days", lambda jobs: {job.pk: day})
    make_need(job=job, material=ply)
    (line,) = lines()
    assert line.is_due
    assert line.when == "order today"


def test_what_comes_too_late_says_by_how_much(owner, ply):
    make_need(job=wanted(make_job(by=owner), 9), material=ply)
    (line,) = lines()
    assert line.when == "order today, 2 days too late"


def test_a_job_without_a_day_is_bought_for_with_no_hurry(owner, ply):
    make_need(job=make_job(by=owner), material=ply)
    (line,) = lines()
    assert (line.when, line.is_due) == ("no day yet", False)


def test_what_waits_behind_a_gate_is_not_to_buy(job, ply):
    make_need(job=job, material=ply)
    gate = Gate.objects.create(job=job, kind=GateKind.DEPOSIT)
    page = to_buy(today=TODAY)
    assert page.lines == ()
    assert [w.gates for w in page.waiting] == [(gate,)]
    gate.state, gate.since = GateState.DROPPED, AT
    gate.save()
    assert lines()


def test_only_the_fabric_waits_for_a_signed_fabric(job, ply, yard):
    felt = make_fabric(name="Felt", supplier=yard)
    for material in (ply, felt):
        make_need(job=job, material=material)
    Gate.objects.create(job=job, kind=GateKind.FABRIC, material=felt)
    page = to_buy(today=TODAY)
    assert [line.material for line in page.lines] == [ply]
    assert [w.material for w in page.waiting] == [felt]


def test_the_signed_lot_is_asked_for(job, yard, owner):
    felt = make_fabric(name="Felt", supplier=yard, pack_quantity=1)
    make_need(job=job, material=felt, quantity="7.3")
    Gate.objects.create(
        job=job,
        kind=GateKind.FABRIC,
        material=felt,
        state=GateState.PASSED,
        code="F1",
        colour="moss",
        dye_lot="L7",
        since=AT,
        by=owner,
    )
    lay_in(felt, 40, owner, lot="L8")
    (line,) = lines()
    assert (line.buy.lot, line.packs_words) == ("L7", "7.3 m")
    (other,) = (step for step in line.workings.steps if "other lots" in step.label)
    assert (other.amount, "L7" in other.note) == ("40 m", True)


def test_the_same_thing_in_two_packs_is_bought_in_the_cheapest_mix(job, yard):
    small = make_hardware(name="Eye", supplier=yard, pack_price=Decimal(22))
    make_hardware(
        name="Eye", supplier=yard, pack_quantity=Decimal(500), pack_price=Decimal(80)
    )
    make_need(job=job, material=small, quantity=560)
    (line,) = lines()
    assert line.packs_words == "1 pack of 500 pieces and 1 pack of 100 pieces"
    assert line.cost == 102


def test_a_material_without_supplier_stands_apart(job, owner):
    make_need(job=job, material=make_sheet(name="Odd"))
    (group,) = to_buy(today=TODAY).suppliers
    assert group.supplier is None


def test_stores_below_nothing_hold_nothing_and_are_told(job, ply):
    make_need(job=job, material=ply, quantity=2)
    StockLevel.objects.create(material=ply, quantity=-3)
    page = to_buy(today=TODAY)
    assert [line.buy.short for line in page.lines] == [2]
    assert [level.material for level in page.below] == [ply]


def test_promises_are_orders_and_what_open_jobs_still_take(job, ply, yard):
    make_need(job=job, material=ply, quantity=10)
    order = make_order(supplier=yard, placed=True)
    make_order_line(order=order, material=ply, packs=4, arrived=1)
    make_order_line(order=make_order(supplier=yard), material=ply, packs=9)
    said = promises([ply.pk])[ply.pk]
    assert (said.on_order, said.promised) == (3, 10)
    assert said.job_lines[0].text == job.code
    assert standing([ply.pk])[ply.pk].free == -7


def test_a_job_is_told_its_own_share(job, ply, owner):
    first = wanted(make_job(by=owner), 20)
    make_need(job=first, material=ply, quantity=4)
    make_need(job=job, material=ply, quantity=4)
    lay_in(ply, 6, owner)
    (row,) = job_material(job, today=TODAY).rows
    assert (row.share.from_stock, row.short) == (2, 2)
    assert row.needed_cost == 4 * 48


def test_queries_do_not_grow_with_jobs_and_materials(ply, yard, owner, count_queries):
    def more(times):
        for number in range(times):
            job = wanted(make_job(by=owner), 20 + number)
            make_need(job=job, material=ply)
            make_need(job=job, material=make_hardware(supplier=yard))
            Gate.objects.create(job=job, kind=GateKind.LANDLORD)

    more(2)
    few = count_queries(lambda: to_buy(today=TODAY))
    more(8)
    assert count_queries(lambda: to_buy(today=TODAY)) == few <= 9
