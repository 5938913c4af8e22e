"""At the saw: ticks, what they make of a plan, and the rest planned anew."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from jobs.cutting.actions import (
    CannotPlanError,
    Spoiled,
    begun_so_far,
    finish_plan,
    plan_around,
    tick_row,
    what_is_left,
)
from jobs.cutting.adapter import plan_of, request_of
from jobs.cutting.engine.remains import begun, begun_by_ticks, still_wanted
from jobs.cutting.engine.results import rows_of
from jobs.cutting.engine.saw import SawStep
from jobs.cutting.models import CutState, CutTick, LostPart, PlanPiece
from jobs.cutting.reports.unfinished import AFTER, unfinished_before, unfinished_of
from shop.catalogue.models import PieceState, StockLevel, StockPiece
from tests.factories.cutting import (
    CORNER,
    made,
    make_ask,
    make_batten,
    make_plan,
    make_ply,
    make_wood_job,
)
from tests.factories.jobs import AT

pytestmark = pytest.mark.django_db


@pytest.fixture
def plan(shop, maker):
    return make_plan(by=maker)


def keys(plan, *steps):
    return [row.key for row in rows_of(plan.result) if row.step in steps]


def tick(plan, by, found):
    for key in found:
        tick_row(plan, key, on=True, by=by, at=AT)


def counts(request):
    return {part.key: part.count for part in request.parts}


class TestTicks:
    def test_the_last_one_counts_and_a_repeat_is_none(self, plan, maker):
        key = keys(plan, SawStep.RIP)[0]
        assert tick_row(plan, key, on=True, by=maker, at=AT) is not None
        assert tick_row(plan, key, on=True, by=maker, at=AT) is None
        assert begun_so_far(plan) > 0
        tick_row(plan, key, on=False, by=maker, at=AT)
        assert begun_so_far(plan) == 0

    def test_a_finished_plan_takes_none(self, plan, maker):
        finish_plan(plan, keep=(), by=maker, at=AT)
        with pytest.raises(CannotPlanError, match="all cut"):
            tick_row(plan, keys(plan, SawStep.RIP)[0], on=True, by=maker, at=AT)


class TestWhatIsBegun:
    def test_with_every_row_ticked_every_piece_is_made(self, plan):
        request, rows = request_of(plan), rows_of(plan.result)
        done = {row.key for row in rows}
        found = begun(request, plan_of(plan), rows, done, count=plan.pieces_used)
        assert found.made == counts(request)
        assert still_wanted(request, found.made) == ()

    def test_ripped_strips_that_are_not_crosscut_are_rests(self, plan):
        request, rows = request_of(plan), rows_of(plan.result)
        done = {row.key for row in rows if row.step is SawStep.RIP}
        found = begun(request, plan_of(plan), rows, done, count=plan.pieces_used)
        strips = sum(
            layout.count * len(plate.strips)
            for layout in plan_of(plan).layouts
            for plate in layout.plates
        )
        assert found.made == {}
        assert len(found.rests) >= strips

    @given(data=st.data())
    @settings(
        max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture]
    )
    def test_nothing_comes_from_nothing(self, plan, data):
        """Pieces made and rests are never more than what was begun, kerfs aside."""
        request, rows = request_of(plan), rows_of(plan.result)
        done = data.draw(st.sets(st.sampled_from([row.key for row in rows])))
        many = data.draw(st.integers(0, plan.pieces_used))
        found = begun(request, plan_of(plan), rows, done, count=many)
        whole = sum(
            Fraction(source.length_ticks * source.width_ticks)
            for source in map(request.source, found.sources)
        )
        pieces = sum(
            request.part(key).length_ticks * request.part(key).width_ticks * count
            for key, count in found.made.items()
        )
        rests = sum(rest.length_ticks * rest.width_ticks for rest in found.rests)
        assert pieces + rests <= whole
        assert all(found.made[key] <= counts(request)[key] for key in found.made)
        left = sum(part.count for part in still_wanted(request, found.made))
        assert left + sum(found.made.values()) == sum(counts(request).values())
        assert begun_by_ticks(request, plan_of(plan), rows, done) <= plan.pieces_used

    def test_bars_are_cut_to_length(self, shop, maker):
        batten = make_batten()
        job = make_wood_job(ply=make_ply(), batten=batten, kinds=CORNER, by=maker)
        plan = made(make_ask(job=job, ply=batten, by=maker))
        request, rows = request_of(plan), rows_of(plan.result)
        first = rows[0]
        found = begun(request, plan_of(plan), rows, {first.key}, count=plan.pieces_used)
        assert found.made == {each.part: each.count for each in first.pieces}


class TestAround:
    def lose_one(self, plan, maker):
        tick(plan, maker, [row.key for row in rows_of(plan.result)])
        part = request_of(plan).parts[0]
        spoiled = Spoiled(plan.pieces_used, {part.key: 1}, note="The fence slipped.")
        return part, plan_around(plan, spoiled, by=maker, at=AT)

    def test_what_is_lost_is_planned_anew_and_nothing_else(self, plan, maker):
        part, new = self.lose_one(plan, maker)
        assert counts(request_of(new)) == {part.key: 1}
        plan.refresh_from_db()
        assert plan.state == CutState.REPLACED
        lost = LostPart.objects.get()
        assert (lost.plan, lost.part, lost.count) == (plan, part.key, 1)
        assert made(new).state == CutState.PLANNED

    def test_good_pieces_that_still_lack_a_cut_are_named(self, plan, maker):
        rows = rows_of(plan.result)
        after = [row for row in rows if row.step in AFTER]
        left = request_of(plan)
        assert unfinished_of(plan, replace(left, parts=left.parts[:1])) == ()
        tick(plan, maker, [row.key for row in rows if row not in after])
        part = request_of(plan).part(after[0].pieces[0].part)
        new = plan_around(
            plan, Spoiled(plan.pieces_used, {part.key: 1}), by=maker, at=AT
        )
        ((before, lacking),) = unfinished_before(new)
        assert before == plan
        assert f"{part.count - 1} × " in lacking[0]
        assert part.label in lacking[0]
        tick_rows = [row.key for row in after]
        CutTick.objects.bulk_create(
            CutTick(plan=plan, key=key, ticked=True, at=AT, by=maker)
            for key in tick_rows
        )
        assert not list(unfinished_before(new))

    def test_what_was_begun_is_booked_once(self, plan, maker):
        used = plan.pieces_used
        _, new = self.lose_one(plan, maker)
        again = made(new)
        whole = sum(
            1
            for each in plan_of(again).layouts
            if not request_of(again).source(each.sheet).is_piece
        )
        finish_plan(again, keep=(), by=maker, at=AT)
        level = StockLevel.objects.get(material=plan.material)
        assert level.quantity == -(used + whole)

    def test_rests_are_pieces_with_numbers_that_the_new_plan_cuts_first(
        self, plan, maker
    ):
        tick(plan, maker, keys(plan, SawStep.RIP))
        spoiled = Spoiled(plan.pieces_used, {})
        left = what_is_left(plan, spoiled)
        new = made(plan_around(plan, spoiled, by=maker, at=AT))
        kept = StockPiece.objects.filter(note__contains=plan.code)
        assert len(kept) == len(left.rests) > 0
        used = {PlanPiece.objects.get(piece=p).plan for p in kept.kept()[:1]}
        assert used == {new}
        assert new.price == 0

    def test_a_rest_that_is_no_use_is_not_offered(self, plan, maker):
        tick(plan, maker, keys(plan, SawStep.RIP))
        every = frozenset(range(1, plan.pieces_used + 1))
        left = what_is_left(plan, Spoiled(plan.pieces_used, {}, every))
        assert left.rests == ()

    def test_more_than_is_cut_can_t_be_lost(self, plan, maker):
        part = request_of(plan).parts[0]
        with pytest.raises(CannotPlanError, match="0 are ticked as cut"):
            plan_around(plan, Spoiled(0, {part.key: 1}), by=maker, at=AT)
        assert not LostPart.objects.exists()

    def test_where_all_is_cut_and_good_there_is_nothing_to_plan(self, plan, maker):
        tick(plan, maker, [row.key for row in rows_of(plan.result)])
        with pytest.raises(CannotPlanError, match="finish the plan"):
            plan_around(plan, Spoiled(plan.pieces_used, {}), by=maker, at=AT)

    def test_twice_at_once_leaves_one(self, plan, maker):
        self.lose_one(plan, maker)
        with pytest.raises(CannotPlanError, match="planned anew"):
            plan_around(plan, Spoiled(0, {}), by=maker, at=AT)
        assert not StockPiece.objects.filter(state=PieceState.GONE).exists()
