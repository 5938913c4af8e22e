"""The ledger of stock: levels are the sum of moves, an undo restores, a count stands."""

from concurrent.futures import ThreadPoolExecutor
from decimal import Decimal as D

import pytest
from django.db import IntegrityError, connection, transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shared.audit.models import Entry
from shared.records import LedgerIsAppendOnlyError
from shop.catalogue.actions import (
    Counted,
    StockError,
    count_stock,
    move_stock,
    take_stock,
    undo_move,
)
from shop.catalogue.models import StockLevel, StockMove, StockReason
from shop.catalogue.reports.stock import below_nothing, on_hand, quantity_text, standing
from shop.catalogue.slots import PROMISES, Line, Promised
from tests.factories import catalogue as make
from tests.factories.stock import AT, make_move

pytestmark = pytest.mark.django_db


def level(material, lot=""):
    return StockLevel.objects.get(material=material, lot=lot).quantity


def stored():
    return StockMove.objects.count(), StockLevel.objects.count(), Entry.objects.count()


STEPS = st.lists(
    st.one_of(
        st.tuples(
            st.just("move"),
            st.sampled_from(["", "A", "B"]),
            st.decimals("-999", "999", places=3).filter(bool),
        ),
        st.tuples(
            st.just("count"),
            st.sampled_from(["", "A", "B"]),
            st.decimals(0, "999", places=3),
        ),
        st.tuples(st.just("undo"), st.integers(0, 9), st.none()),
    ),
    min_size=1,
    max_size=12,
)


@given(steps=STEPS)
@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_levels_are_the_sum_of_moves_whatever_is_done(owner, steps):
    cloth = make.make_fabric()
    who = {"by": owner, "at": AT}
    for kind, where, how_much in steps:
        if kind == "move":
            move_stock(cloth, how_much, StockReason.BACK, lot=where, **who)
        elif kind == "count":
            count_stock(cloth, how_much, lot=where, note="counted", **who)
            # none is made where nothing was there and nothing was counted
            assert level(cloth, where) == how_much
        else:
            made = list(cloth.stock_moves.order_by("created_at"))
            if made:
                _undo_or_not(made[where % len(made)], owner)
    sums = {}
    for move in cloth.stock_moves.all():
        sums[move.lot] = sums.get(move.lot, 0) + move.quantity
    levels = {row.lot: row.quantity for row in cloth.stock_levels.all()}
    assert levels == {lot: sums.get(lot, 0) for lot in levels}
    assert set(sums) <= set(levels)
    assert on_hand([cloth.pk]) == {cloth.pk: sum(sums.values(), D(0))}


def _undo_or_not(move, by):
    """Undo; where that is refused nothing is stored."""
    before, there = stored(), level(move.material, move.lot)
    try:
        undo_move(move, by=by, at=AT)
    except StockError:
        assert stored() == before
        assert level(move.material, move.lot) == there
    else:
        assert level(move.material, move.lot) == there - move.quantity


class TestMoves:
    def test_what_comes_and_goes_is_in_ledger_level_and_log(self, owner):
        ply = make.make_sheet()
        came = make_move(ply, 10, by=owner)
        went = make_move(ply, "-3.5", by=owner)
        assert level(ply) == D("6.5")
        assert (came.why, went.why) == ("delivered", "used")
        texts = Entry.objects.order_by("created_at").values_list("text", flat=True)
        assert list(texts) == ["+10 delivered", "-3.5 used"]

    def test_a_lot_is_the_same_whatever_spaces_were_typed(self, owner):
        cloth = make.make_fabric()
        make_move(cloth, 10, lot="H 204", by=owner)
        make_move(cloth, -4, lot="  H   204 ", by=owner)
        assert level(cloth, "H 204") == 6

    def test_a_move_is_kept_to_the_thousandth(self, owner):
        cloth = make.make_fabric()
        assert make_move(cloth, "1.23456", by=owner).quantity == D("1.235")

    @pytest.mark.parametrize("nothing", ["0", "0.0004", "-0.0004"])
    def test_nothing_is_no_move(self, owner, nothing):
        ply = make.make_sheet()
        with pytest.raises(StockError, match="Say how much"):
            make_move(ply, nothing, why="used", by=owner)
        assert stored() == (0, 0, 0)

    @pytest.mark.parametrize("wild", ["1e15", "-1e15", "Infinity"])
    def test_more_than_any_stores_hold_is_refused(self, owner, wild):
        with pytest.raises(StockError, match="more than any stores hold"):
            make_move(make.make_sheet(), wild, by=owner)
        assert stored() == (0, 0, 0)

    def test_a_level_that_grows_past_what_is_kept_is_refused(self, owner):
        ply = make.make_sheet()
        make_move(ply, 999_999_999, by=owner)
        with pytest.raises(StockError):
            make_move(ply, 1, by=owner)
        assert level(ply) == 999_999_999

    def test_below_nothing_is_stored_and_said(self, owner):
        cloth = make.make_fabric(name="Open weave")
        make_move(cloth, 5, by=owner)
        assert below_nothing(cloth) == ""
        make_move(cloth, "-1.25", lot="7", by=owner)
        said = below_nothing(cloth)
        assert "Open weave stands below nothing: −1.25 m of dye lot 7." in said
        assert said.endswith("Count it.")

    def test_history_is_not_changed(self, owner):
        make_move(make.make_sheet(), 3, by=owner)
        with pytest.raises(LedgerIsAppendOnlyError):
            StockMove.objects.update(quantity=4)
        with pytest.raises(LedgerIsAppendOnlyError):
            StockMove.objects.all().delete()


class TestUndo:
    def test_it_is_a_move_that_names_the_other(self, owner, office):
        ply = make.make_sheet()
        move = make_move(ply, -3, by=owner)
        counter = undo_move(move, by=office, at=AT)
        assert (counter.undoes, counter.quantity, counter.why) == (move, 3, "used")
        assert level(ply) == 0

    def test_once_only(self, owner, office):
        move = make_move(make.make_sheet(), -3, by=owner)
        undo_move(move, by=office, at=AT)
        with pytest.raises(StockError, match=f"already, by {office}"):
            undo_move(move, by=owner, at=AT)
        assert level(move.material) == 0

    def test_an_undo_is_not_undone(self, owner):
        counter = undo_move(make_move(make.make_sheet(), 3, by=owner), by=owner, at=AT)
        with pytest.raises(StockError, match="takes something back already"):
            undo_move(counter, by=owner, at=AT)

    def test_a_count_stands_until_it_is_taken_back(self, owner):
        ply = make.make_sheet()
        move = make_move(ply, 10, by=owner)
        count = count_stock(ply, D(8), note="two broken", by=owner, at=AT)
        with pytest.raises(StockError, match="It was counted after this"):
            undo_move(move, by=owner, at=AT)
        undo_move(count, by=owner, at=AT)
        undo_move(move, by=owner, at=AT)
        assert level(ply) == 0

    def test_a_count_of_another_lot_is_no_hindrance(self, owner):
        cloth = make.make_fabric()
        move = make_move(cloth, 10, lot="A", by=owner)
        count_stock(cloth, D(8), lot="B", note="found", by=owner, at=AT)
        undo_move(move, by=owner, at=AT)
        assert (level(cloth, "A"), level(cloth, "B")) == (0, 8)


class TestCounts:
    def test_as_it_should_be_moves_nothing(self, owner):
        ply = make.make_sheet()
        make_move(ply, 8, by=owner)
        assert count_stock(ply, D("8.000"), note="", by=owner, at=AT) is None
        assert StockMove.objects.count() == 1

    def test_a_difference_wants_a_reason(self, owner):
        ply = make.make_sheet()
        with pytest.raises(StockError, match="Say why the count differs"):
            count_stock(ply, D(8), note="", by=owner, at=AT)
        assert stored() == (0, 0, 0)

    def test_all_or_none_where_one_moved_meanwhile(self, owner):
        ply, board = make.make_sheet(), make.make_board(name="Batten")
        make_move(board, 4, by=owner)
        counts = [Counted(ply, D(9), seen=D(0)), Counted(board, D(7), seen=D(5))]
        with pytest.raises(StockError, match="Somebody moved some of Batten"):
            take_stock(counts, note="monthly", by=owner, at=AT)
        assert StockMove.objects.count() == 1


BROKEN = [
    ("moves_something", {"quantity": D(0)}),
    ("reason_known", {"why": "lost"}),
    ("count_has_reason", {"why": "counted", "note": ""}),
]


@pytest.mark.parametrize(("name", "wrong"), BROKEN, ids=[name for name, _ in BROKEN])
def test_the_database_refuses_a_wrong_move(owner, name, wrong):
    right = {"material": make.make_sheet(), "quantity": D(1), "why": "used"}
    with pytest.raises(IntegrityError, match=name), transaction.atomic():
        StockMove.objects.create(**right | wrong, at=AT, by=owner)


def test_the_database_keeps_one_level_of_a_lot_and_one_undo_of_a_move(owner):
    move = make_move(make.make_sheet(), 1, by=owner)
    with pytest.raises(IntegrityError), transaction.atomic():
        StockLevel.objects.create(material=move.material, lot="")
    undo_move(move, by=owner, at=AT)
    with pytest.raises(IntegrityError), transaction.atomic():
        StockMove.objects.create(
            material=move.material,
            quantity=-1,
            why="used",
            undoes=move,
            at=AT,
            by=owner,
        )


@pytest.mark.django_db(transaction=True)
class TestAtOnce:
    def test_every_one_of_many_takes_is_counted(self, owner):
        ply = make.make_sheet()  # no level yet: each of them would make it
        at_once(lambda: make_move(ply, -2, by=owner), times=4)
        assert StockMove.objects.count() == 4
        assert level(ply) == -8

    def test_two_undos_take_back_once(self, owner):
        move = make_move(make.make_sheet(), 5, by=owner)
        results = at_once(lambda: undo_move(move, by=owner, at=AT), times=2)
        assert sorted(type(r).__name__ for r in results) == ["StockError", "StockMove"]
        assert level(move.material) == 0


def at_once(act, *, times):
    """Do something in several threads, each with its own connection."""

    def one(_):
        try:
            return act()
        except StockError as refused:
            return refused
        finally:
            connection.close()

    with ThreadPoolExecutor(times) as pool:
        return list(pool.map(one, range(times)))


class TestStanding:
    def test_free_is_on_hand_and_on_order_less_what_is_promised(
        self, owner, monkeypatch
    ):
        ply, board = make.make_sheet(), make.make_board()
        make_move(ply, 4, by=owner)
        monkeypatch.setattr(PROMISES, "_functions", [])
        order, job = Line("order B-1", D(10)), Line("job J7", D(12))
        PROMISES.add(lambda ids: {ply.pk: Promised(D(10), order_lines=(order,))})
        PROMISES.add(
            lambda ids: {
                ply.pk: Promised(promised=D(12), job_lines=(job,)),
                owner.pk: Promised(promised=D(1)),  # not asked for
            }
        )
        stands = standing([ply.pk, board.pk])
        assert set(stands) == {ply.pk, board.pk}
        assert stands[ply.pk].free == 2
        assert not stands[ply.pk].is_short
        assert stands[ply.pk].coming.order_lines == (order,)
        assert (stands[board.pk].free, stands[board.pk].is_known) == (0, False)

    @pytest.mark.parametrize(
        ("made", "quantity", "text"),
        [
            (make.make_sheet, "1", "1 sheet"),
            (make.make_sheet, "-2", "−2 sheets"),
            (make.make_fabric, "12.345", "12.345 m"),
            (make.make_fill, "3", "3 pieces"),
            (make.make_consumable, "5000", "5,000 pieces"),
        ],
    )
    def test_so_much_is_said_in_its_own_count(self, shop, made, quantity, text):
        assert quantity_text(made(), D(quantity)) == text
