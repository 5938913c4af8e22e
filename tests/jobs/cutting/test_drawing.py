"""Drawings of sheets and bars: to scale, words apart, nothing outside."""

import itertools
import re

import pytest

from jobs.cutting.engine.drawing import CutBar, Sheet, bar_drawing, sheet_drawing
from jobs.cutting.engine.notation import Notation
from shared.drawing.pens import WOOD_TINT
from shared.length import UnitSystem, from_inches, from_mm
from shared.nesting import (
    Bar,
    BarJob,
    BarPart,
    Halving,
    Pair,
    Rect,
    SheetJob,
    plan_bars,
    plan_sheets,
)
from shared.nesting import Sheet as Stock

METRIC = Notation(UnitSystem.METRIC)
IMPERIAL = Notation(UnitSystem.IMPERIAL, 32)
LETTERS = "ABCDEFGHIJ"


def parts(at):
    """Return parts of many sizes, from a small block to a pair of cleats."""
    return (
        Rect("stile", at(1170), at(100), 9),
        Rect("rail", at(600), at(100), 7),
        Rect("brace", at(570), at(75), 5),
        Rect("pair", at(570), at(150), 2, pair=Pair(45, at(15))),
        Rect("block", at(150), at(75), 8),
        Rect("slip", at(90), at(30), 6),
        Rect("narrow", at(1100), at(62), 1),
    )


def drawings(*, halving=Halving.WHOLE, trim=0, notation=METRIC):
    metric = notation.units is UnitSystem.METRIC
    at = from_mm if metric else (lambda size: from_inches(size) // 25)
    wanted = parts(at)
    stock = (Stock("ply", at(2440), at(1220)), Stock("offcut", at(700), at(310), 1, 1))
    job = SheetJob(stock, wanted, at(3), at(trim) if trim else 0, halving)
    letters = dict(zip([part.key for part in wanted], LETTERS, strict=False))
    sizes = {sheet.key: (sheet.length_ticks, sheet.width_ticks) for sheet in stock}
    for number, layout in enumerate(plan_sheets(job).layouts):
        sheet = Sheet(
            key=f"C1-{number}",
            title=f"Sheet {number}: ply",
            length_ticks=sizes[layout.sheet][0],
            width_ticks=sizes[layout.sheet][1],
            layout=layout,
            letters=letters,
            keep_ticks=(at(300), at(80)),
            trim_ticks=job.trim_ticks,
            notation=notation,
        )
        yield layout, sheet_drawing(sheet, words=["Strip 1, 100 mm: 2 × A."])


def apart(drawing):
    boxes = drawing.label_boxes()
    hit = [(a, b) for a, b in itertools.combinations(boxes, 2) if a.overlaps(b)]
    return hit == [] and all(drawing.paper.contains(box) for box in boxes)


@pytest.mark.parametrize("notation", [METRIC, IMPERIAL], ids=["mm", "in"])
@pytest.mark.parametrize("halving", list(Halving))
def test_words_keep_apart_and_on_the_paper(halving, notation):
    for _, drawing in drawings(halving=halving, trim=5, notation=notation):
        assert apart(drawing)
        assert drawing.fits()


def test_every_piece_is_drawn_and_named():
    for layout, drawing in drawings():
        pieces = [p for plate in layout.plates for s in plate.strips for p in s.pieces]
        assert drawing.svg().count(f'fill="{WOOD_TINT}"') == len(pieces)
        named = [label.text for label in drawing.labels() if label.text[0] in LETTERS]
        assert len(named) >= len([p for p in pieces if p.width_ticks > from_mm(50)])


def test_a_pair_says_its_tilt_and_an_offcut_its_size():
    texts = {label.text for _, d in drawings() for label in d.labels()}
    assert any(text.endswith("45°") for text in texts)
    assert any(re.match(r"keep \d", text) for text in texts)
    assert {"2440 mm", "1220 mm"} <= texts


def test_a_third_rip_is_marked():
    stock = (Stock("ply", from_mm(1300), from_mm(150)),)
    wanted = (
        Rect("a", from_mm(700), from_mm(150), 1),
        Rect("b", from_mm(500), from_mm(90), 1),
    )
    (layout,) = plan_sheets(SheetJob(stock, wanted, from_mm(3))).layouts
    sheet = Sheet(
        key="C1-1",
        title="Sheet 1",
        length_ticks=from_mm(1300),
        width_ticks=from_mm(150),
        layout=layout,
        letters={"a": "A", "b": "B"},
        keep_ticks=(from_mm(300), from_mm(80)),
        trim_ticks=0,
        notation=METRIC,
    )
    drawn = sheet_drawing(sheet, words=[])
    assert "B 500, third rip" in {label.text for label in drawn.labels()}


@pytest.mark.parametrize("lengths", [(1000, 390), (90, 60), (2400,)])
def test_a_bar_has_the_length_of_each_piece(lengths):
    wanted = tuple(BarPart(str(n), from_mm(n), 5) for n in lengths)
    job = BarJob((Bar("batten", from_mm(2400)),), wanted, from_mm(3))
    for pattern in plan_bars(job).patterns:
        drawn = bar_drawing(
            CutBar(
                key="C2-1",
                title="Board 1",
                length_ticks=from_mm(2400),
                width_ticks=from_mm(44),
                kerf_ticks=from_mm(3),
                trim_ticks=0,
                pattern=pattern,
                lengths={str(n): from_mm(n) for n in lengths},
                letters={str(n): "A" for n in lengths},
                notation=METRIC,
            ),
            words=[],
        )
        assert apart(drawn)
        count = sum(pieces.count for pieces in pattern.pieces)
        texts = [label.text for label in drawn.labels()]
        assert len([t for t in texts if t in {str(n) for n in lengths}]) == count
