"""At the saw: each setting once, in an order in which everything is there when asked for."""

from dataclasses import replace

import pytest

from shared.length import TICKS_PER_INCH as INCH
from shared.nesting import (
    Bar,
    BarJob,
    BarPart,
    Halving,
    Pair,
    Pieces,
    Rect,
    Sheet,
    SheetJob,
    Step,
    plan_bars,
    plan_sheets,
    saw_bars,
    saw_sheets,
)
from tests.shared.nesting.jobs import shop_job
from tests.shared.nesting.saw import sawn

KERF = INCH // 8
BEVEL = Pair(45, 5 * INCH // 8)


def rows_of(parts, *, sheet=(96 * INCH, 48 * INCH), **rules):
    job = SheetJob((Sheet("sheet", *sheet),), parts, KERF, **rules)
    plan = plan_sheets(job)
    rows = saw_sheets(job, plan)
    done, tilted, wrong = sawn(job, plan, rows)
    assert wrong == []
    assert done == {p.key: p.count for p in parts}
    assert tilted == {p.key: p.count for p in parts if p.pair}
    return rows


def test_frames_take_one_rip_and_two_stop_blocks():
    rows = rows_of(
        (
            Rect("rail", 24 * INCH, 4 * INCH, 16),
            Rect("stile", 46 * INCH + 6 * INCH // 8, 4 * INCH, 16),
        )
    )
    assert [(r.step, r.setting_ticks) for r in rows] == [
        (Step.RIP, 4 * INCH),
        (Step.CROSSCUT, 46 * INCH + 6 * INCH // 8),
        (Step.CROSSCUT, 24 * INCH),
    ]
    assert rows[1].pieces == (Pieces("stile", 16),)
    assert [r.key for r in rows] == ["rip-32512", "crosscut-379984", "crosscut-195072"]


def test_a_strip_of_blanks_is_tilt_ripped_before_it_is_crosscut():
    rows = rows_of((Rect("cleat", 12 * INCH, 4 * INCH, 7, pair=BEVEL),))
    assert [r.step for r in rows] == [Step.RIP, Step.BEVEL, Step.CROSSCUT]
    bevel, crosscut = rows[1], rows[2]
    # The long face of a cleat from a 4 in strip, 2.224 in: both halves lie under the stop.
    assert round(bevel.setting_ticks / INCH, 3) == 2.224
    assert (bevel.bevel_deg, bevel.cuts, crosscut.cuts) == (45, 1, 14)


def test_a_blank_among_other_pieces_is_tilt_ripped_last():
    rows = rows_of(
        (
            Rect("cleat", 12 * INCH, 4 * INCH, 1, pair=BEVEL),
            Rect("rail", 80 * INCH, 4 * INCH, 1),
        ),
        sheet=(96 * INCH, 4 * INCH),
    )
    steps = [r.step for r in rows]
    assert steps == [Step.RIP, Step.CROSSCUT, Step.CROSSCUT, Step.BEVEL_PIECE]
    assert rows[0].cuts == 0  # the sheet is the strip


def test_edges_and_halves_come_first():
    parts = (Rect("rail", 40 * INCH, 4 * INCH, 4),)
    rows = rows_of(parts, trim_ticks=INCH // 4, halving=Halving.ACROSS)
    assert [r.step for r in rows[:5]] == [Step.EDGE] * 4 + [Step.HALVE]
    assert rows[0].setting_ticks == 96 * INCH - INCH // 4
    assert rows[4].setting_ticks == (96 * INCH - INCH // 2 - KERF) // 2


def test_a_trimming_rip_comes_after_the_crosscut():
    rows = rows_of(
        (Rect("wide", 60 * INCH, 10 * INCH), Rect("slim", 30 * INCH, 9 * INCH)),
        sheet=(96 * INCH, 10 * INCH),
    )
    assert (rows[-1].step, rows[-1].pieces) == (Step.TRIM, (Pieces("slim", 1),))


def test_each_setting_stands_once_and_keeps_its_key():
    job = shop_job(30, seed=2)
    rows = saw_sheets(job, plan_sheets(job))
    keys = [row.key for row in rows]
    assert len(keys) == len(set(keys))
    assert keys == [r.key for r in saw_sheets(job, plan_sheets(job))]
    widths = {p.width_ticks for p in job.parts} | {p.length_ticks for p in job.parts}
    assert sum(row.step is Step.RIP for row in rows) <= len(widths)


def test_bars_that_are_cut_alike_share_a_stop_block():
    job = BarJob((Bar("bar", 100),), (BarPart("a", 48, 4), BarPart("b", 30, 3)), 4)
    plan = plan_bars(job)
    rows = saw_bars(job, plan)
    # Two halves and a kerf fill the bar: one cut each. Three of 30 leave a little.
    assert [(r.setting_ticks, r.cuts) for r in rows] == [(48, 2), (30, 3)]
    assert [r.pieces for r in rows] == [(Pieces("a", 4),), (Pieces("b", 3),)]


def test_a_bar_that_is_trimmed_needs_every_cut():
    job = BarJob((Bar("bar", 100),), (BarPart("a", 43, 2),), 4, 5)
    rows = saw_bars(job, plan_bars(job))
    assert [(r.step, r.setting_ticks, r.cuts) for r in rows] == [
        (Step.EDGE, 95, 1),
        (Step.CROSSCUT, 43, 2),
    ]


SPOILED = {
    "a row lost": lambda rows: rows[1:],
    "crosscuts before their strips": lambda rows: rows[::-1],
    "another setting": lambda rows: [
        replace(rows[0], setting_ticks=rows[0].setting_ticks - 1),
        *rows[1:],
    ],
    "a cut too few": lambda rows: [replace(rows[0], cuts=rows[0].cuts - 1), *rows[1:]],
    "a piece too few": lambda rows: [
        replace(row, pieces=row.pieces[1:]) if row.step is Step.CROSSCUT else row
        for row in rows
    ],
    "no trimming rip": lambda rows: [r for r in rows if r.step is not Step.TRIM],
    "no tilted rip": lambda rows: [r for r in rows if not r.bevel_deg],
}


@pytest.mark.parametrize("spoil", SPOILED.values(), ids=SPOILED.keys())
def test_the_saw_notices_a_bad_list(spoil):
    parts = (
        Rect("wide", 60 * INCH, 10 * INCH),
        Rect("slim", 20 * INCH, 9 * INCH),
        Rect("cleat", 10 * INCH, 10 * INCH, 1, pair=BEVEL),
    )
    job = SheetJob((Sheet("sheet", 96 * INCH, 10 * INCH),), parts, KERF)
    plan = plan_sheets(job)
    wanted = {p.key: 1 for p in parts}, {"cleat": 1}, []
    assert sawn(job, plan, saw_sheets(job, plan)) == wanted
    try:
        got = sawn(job, plan, spoil(list(saw_sheets(job, plan))))
    except KeyError:  # what was to be cut isn't there yet
        return
    assert got != wanted
