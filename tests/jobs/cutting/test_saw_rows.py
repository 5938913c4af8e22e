"""Rows of the saw: the same key for the same setting, and every piece done."""

from decimal import Decimal

import pytest

from jobs.cutting.adapter import plan_of, request_of
from jobs.cutting.engine.results import rows_of
from jobs.cutting.engine.saw import SawStep
from jobs.cutting.reports import saw_stages
from jobs.cutting.reports.words import notation
from shared.length import TICKS_PER_MM
from tests.factories.catalogue import mm
from tests.factories.cutting import CORNER, WALL, make_plan

pytestmark = pytest.mark.django_db


@pytest.fixture
def plan(shop, maker):
    return make_plan(by=maker, kinds=(*WALL, *CORNER))


def keys(plan):
    return [row.key for row in rows_of(plan.result)]


def test_each_setting_stands_once_and_keeps_its_key_in_another_plan(plan, maker):
    assert len(set(keys(plan))) == len(keys(plan))
    other = make_plan(by=maker, kinds=(("wall-panel", 600, 1200, 5),))
    assert {"rip-32000", "rip-24000", "crosscut-192000", "mate-96000"} <= {
        *keys(plan)
    } & {*keys(other)}


def test_steps_follow_in_the_order_of_the_work(plan):
    steps = [stage.step for stage in saw_stages(plan, request_of(plan), notation())]
    assert steps == [step for step in SawStep if step in steps]
    assert steps[0] == "rip"


def test_a_tilted_edge_that_is_no_pair_has_a_row_of_its_own(plan):
    (edge,) = (row for row in rows_of(plan.result) if row.step is SawStep.BEVEL_EDGE)
    (part,) = (p for p in request_of(plan).parts if p.bevel_deg and not p.is_pair)
    assert [(piece.part, piece.count) for piece in edge.pieces] == [(part.key, 4)]
    assert (edge.setting_ticks, edge.bevel_deg) == (mm(100), 45.0)


def test_the_halves_of_a_pair_are_cut_to_their_wall_cleats(plan):
    (mate,) = (row for row in rows_of(plan.result) if row.step is SawStep.MATE)
    assert (mate.setting_ticks, mate.cuts) == (mm(300), 2)


def test_a_pair_is_ripped_by_the_published_geometry(shop, maker):
    """[D] W 100, t 15, k 3.2 mm at 45°: (100 + 15 − 3.2 √2) / 2 = 55.2373 mm."""
    plan = make_plan(by=maker, kerf_ticks=mm(3.2))
    (row,) = (
        row
        for row in rows_of(plan.result)
        if row.step in (SawStep.BEVEL, SawStep.BEVEL_PIECE)
    )
    face = Decimal(row.setting_ticks) / TICKS_PER_MM
    assert face == pytest.approx(Decimal("55.2373"), abs=Decimal("0.002"))


def test_words_name_the_setting_the_cuts_and_the_sheets(plan):
    stages = {s.step: s for s in saw_stages(plan, request_of(plan), notation())}
    first = stages["rip"].lines[0]
    assert (first.setting, first.tilt) == ("fence at 100 mm", "")
    assert first.where == "sheet 1"
    assert plan_of(plan).sheet_count == 1
    assert stages["mate"].lines[0].setting == "stop at 300 mm"
    assert stages["mate"].lines[0].pieces == ("2 × D wall cleat",)
