"""Netting and packs: laws by generated examples, and a few written out by hand."""

import datetime as dt
from decimal import Decimal
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.buying.engine import (
    SPARE_DAYS,
    BuyingError,
    Demand,
    Offer,
    Piece,
    Question,
    Supply,
    boards_for,
    cheapest_packs,
    net,
    roll_for,
    share_amount,
    sheets_for,
    slabs_for,
)

TODAY = dt.date(2026, 3, 2)
days = st.integers(0, 40).map(lambda n: TODAY + dt.timedelta(days=n))
amounts = st.integers(1, 400).map(lambda n: Decimal(n) / 10)
lots = st.sampled_from(("", "", "A", "B"))


@st.composite
def demands(draw, held=True):
    return [
        Demand(
            job=f"J{number}",
            quantity=draw(amounts),
            needed_on=draw(st.none() | days),
            held=draw(st.sampled_from(("", "", "deposit"))) if held else "",
            lot=draw(lots),
        )
        for number in range(draw(st.integers(0, 7)))
    ]


supplies = st.lists(
    st.builds(Supply, amounts, st.none() | days, lots, st.sampled_from("xyz")),
    max_size=5,
)
offers = st.lists(
    st.builds(
        Offer,
        key=st.sampled_from("pqrs"),
        supplier=st.sampled_from(("yard", "mill")),
        pack_quantity=st.sampled_from((1, 2, 5, 7, 50)).map(Decimal),
        pack_price=st.none() | st.integers(0, 90).map(Decimal),
        lead_days=st.integers(0, 20),
        step=st.sampled_from((Decimal(1), Decimal("0.1"))),
    ),
    min_size=1,
    max_size=4,
)
questions = st.builds(
    Question,
    demands().map(tuple),
    supplies.map(tuple),
    offers.map(tuple),
    st.booleans(),
)


def asked(question):
    return net(question, today=TODAY)


def short_of(answer):
    return sum((buy.short for buy in answer.buys), Decimal(0))


@given(questions)
def test_every_demand_is_met_or_short_and_nothing_is_given_out_twice(question):
    answer = asked(question)
    assert len(answer.shares) == len(question.demands)
    for share in answer.shares:
        given_out = share.from_stock + share.from_orders + share.short
        assert given_out == share.demand.quantity
    for lies, part in ((True, "from_stock"), (False, "from_orders")):
        there = sum(s.quantity for s in question.supplies if (s.on is None) is lies)
        assert sum(getattr(share, part) for share in answer.shares) <= there


@given(questions)
def test_what_is_held_waits_and_all_else_that_is_short_is_bought(question):
    answer = asked(question)
    assert all(share.demand.held for share in answer.waiting)
    assert not any(s.demand.held for buy in answer.buys for s in buy.shares)
    short = sum((s.short for s in answer.shares), Decimal(0))
    waiting = sum((s.short for s in answer.waiting), Decimal(0))
    assert short_of(answer) == short - waiting


@given(questions)
def test_no_pack_could_be_left_out(question):
    for buy in asked(question).buys:
        assert buy.quantity >= buy.short
        for pack in buy.packs:
            each = pack.offer.pack_quantity * pack.offer.step
            assert buy.quantity - each < buy.short


@given(demands().map(tuple), supplies.map(tuple))
def test_an_earlier_need_is_never_served_after_a_later_one(wanted, there):
    shares = asked(Question(wanted, there)).shares
    empty = False
    for share in shares:
        assert not (empty and (share.from_stock or share.from_orders))
        empty = empty or bool(share.short)
    order = [share.demand.needed_on or dt.date.max for share in shares]
    assert order == sorted(order)


@given(questions.filter(lambda q: not q.one_lot), amounts, st.none() | days)
def test_more_in_the_stores_never_raises_what_to_buy(question, amount, on):
    more = Question(
        question.demands,
        (*question.supplies, Supply(amount, on, "", "new")),
        question.offers,
    )
    before, after = asked(question), asked(more)
    assert short_of(after) <= short_of(before)


@given(questions)
def test_of_a_dye_lot_a_demand_takes_one_alone(question):
    if not question.one_lot:
        return
    for share in asked(question).shares:
        if not share.demand.lot and share.short:
            assert share.short == share.demand.quantity


@given(
    st.integers(1, 60).map(Decimal),
    st.lists(st.tuples(st.integers(1, 20), st.integers(1, 30)), min_size=1, max_size=3),
)
def test_the_mix_is_the_cheapest_there_is(short, packs):
    offered = [
        Offer(f"p{i}", "yard", Decimal(size), Decimal(price))
        for i, (size, price) in enumerate(packs)
    ]
    found = cheapest_packs(short, offered)
    cost = sum(pack.count * pack.offer.pack_price for pack in found)
    counts = (range(int(short // offer.pack_quantity) + 2) for offer in offered)
    least = min(
        sum(n * o.pack_price for n, o in zip(mix, offered, strict=True))
        for mix in product(*counts)
        if sum(n * o.pack_quantity for n, o in zip(mix, offered, strict=True)) >= short
    )
    assert cost == least


def offer(pack=1, price=10, lead=3, supplier="yard", **more):
    key = f"{supplier}-{pack}"
    return Offer(key, supplier, Decimal(pack), Decimal(price), lead, **more)


def need(quantity, in_days=20, **more):
    on = TODAY + dt.timedelta(days=in_days)
    return Demand("J1", Decimal(quantity), on, **more)


def test_the_last_day_to_order_is_lead_time_and_spare_days_before():
    (buy,) = asked(Question((need(5, in_days=20),), offers=(offer(lead=6),))).buys
    assert buy.order_by == TODAY + dt.timedelta(days=20 - 6 - SPARE_DAYS)
    assert not buy.is_due(TODAY)
    assert buy.late_days == 0


def test_what_comes_too_late_is_due_and_says_by_how_much():
    (buy,) = asked(Question((need(5, in_days=4),), offers=(offer(lead=6),))).buys
    assert buy.is_due(TODAY)
    assert buy.late_days == 2


def test_a_dearer_supplier_is_taken_where_the_cheaper_comes_too_late():
    both = (offer(price=5, lead=30), offer(price=9, lead=2, supplier="mill"))
    (soon,) = asked(Question((need(4, in_days=10),), offers=both)).buys
    (later,) = asked(Question((need(4, in_days=40),), offers=both)).buys
    assert soon.packs[0].offer.supplier == "mill"
    assert later.packs[0].offer.supplier == "yard"


def test_an_order_that_comes_too_late_still_counts_and_says_so():
    late = Supply(Decimal(9), TODAY + dt.timedelta(days=12), ref="B1")
    answer = asked(Question((need(5, in_days=10),), (late,), (offer(),)))
    assert answer.buys == ()
    assert answer.shares[0].late_days == 2


def test_the_held_keep_their_share_of_the_stores():
    early, late = need(5, 3, held="deposit"), Demand("J2", Decimal(5))
    answer = asked(Question((late, early), (Supply(Decimal(6)),), (offer(),)))
    assert [buy.short for buy in answer.buys] == [4]
    assert answer.waiting == ()


def test_cloth_by_the_metre_is_cut_to_a_tenth():
    cut = offer(step=Decimal("0.1"))
    (buy,) = asked(Question((need("7.23"),), offers=(cut,))).buys
    assert buy.quantity == Decimal("7.3")


def test_a_signed_lot_is_bought_by_itself():
    there = (Supply(Decimal(50), lot="B"), Supply(Decimal(2), lot="A"))
    answer = asked(Question((need(5, lot="A"),), there, (offer(),), one_lot=True))
    assert [(buy.lot, buy.short) for buy in answer.buys] == [("A", 3)]


@pytest.mark.parametrize("amount", ["0", "-1", "NaN", "Infinity"])
def test_amounts_are_more_than_nothing(amount):
    for make in (
        lambda n: Demand("J1", n),
        Supply,
        lambda n: Offer("k", "s", n),
    ):
        with pytest.raises(BuyingError):
            make(Decimal(amount))


def test_sheets_go_by_area_over_the_yield_and_are_rounded_up_once():
    pieces = [Piece(100, 500, 8, Decimal(80)), Piece(50, 400, 10, Decimal(50))]
    # 400 000 / 0.8 + 200 000 / 0.5 = 900 000, and a tenth more: 990 000 of 1 000 000
    size = {"width_ticks": 1000, "length_ticks": 1000}
    assert sheets_for(pieces, waste=Decimal(10), **size) == 1
    assert sheets_for(pieces, waste=Decimal(12), **size) == 2


def test_boards_are_laid_out_so_that_they_are_enough():
    four = [Piece(40, 1300, 4)]
    # by length alone 5200 / 2400 would be three, but each board gives one piece
    size = {"width_ticks": 44, "length_ticks": 2400, "kerf_ticks": 3}
    assert boards_for(four, waste=Decimal(0), **size) == 4
    assert boards_for([Piece(20, 1300, 4)], waste=Decimal(0), **size) == 2
    assert boards_for([Piece(40, 2500)], waste=Decimal(0), **size) is None


def test_cloth_is_laid_in_rows():
    assert roll_for([Piece(700, 1300, 5)], usable_ticks=1500) == 3 * 1300
    mixed = [Piece(700, 1300), Piece(700, 900), Piece(1400, 600)]
    assert roll_for(mixed, usable_ticks=1500) == 1300 + 600
    assert roll_for([Piece(1600, 900)], usable_ticks=1500) is None


def test_fill_takes_a_slab_for_each_piece_of_more_than_half():
    size = {"width_ticks": 600, "length_ticks": 1200, "waste": Decimal(0)}
    assert slabs_for([Piece(600, 1200, 3)], **size) == 3
    assert slabs_for([Piece(600, 700, 3)], **size) == 3
    assert slabs_for([Piece(600, 300, 4)], **size) == 1


@given(
    st.integers(1, 5000).map(lambda n: Decimal(n) / 100),
    st.lists(st.integers(1, 900), min_size=1, max_size=6),
)
def test_shares_of_a_plan_add_up_to_its_sheets(total, weights):
    shares = share_amount(total, weights)
    assert sum(shares) == total
    exact = [total * weight / sum(weights) for weight in weights]
    off = [abs(a - b) for a, b in zip(shares, exact, strict=True)]
    assert max(off) < Decimal("0.001")
