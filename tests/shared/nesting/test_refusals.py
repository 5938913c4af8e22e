"""What is refused, with the field it stands in and a sentence."""

import pytest

from shared.nesting import (
    Bar,
    BarJob,
    BarPart,
    Halving,
    NestingError,
    Pair,
    Rect,
    Sheet,
    SheetJob,
)

BAR, PART = Bar("bar", 100), BarPart("part", 50)
SHEET, RECT = Sheet("sheet", 100, 80), Rect("rect", 50, 40)

CASES = {
    "a bar of no length": (lambda: Bar("bar", 0), "length_ticks"),
    "a price below nothing": (lambda: Bar("bar", 100, -1), "price"),
    "a missing price": (lambda: Sheet("sheet", 100, 80, 0), "price"),
    "fewer than none": (lambda: Bar("bar", 100, 1, -1), "available"),
    "a sheet of no width": (lambda: Sheet("sheet", 100, 0), "width_ticks"),
    "a part of no length": (lambda: BarPart("part", 0), "length_ticks"),
    "a part beyond 6.7 km": (lambda: BarPart("part", 2**31), "length_ticks"),
    "a piece of no width": (lambda: Rect("rect", 5, 0), "width_ticks"),
    "no pieces of a part": (lambda: BarPart("part", 50, 0), "count"),
    "no bar": (lambda: BarJob((), (PART,)), "bars"),
    "no sheet": (lambda: SheetJob((), (RECT,)), "sheets"),
    "no bar left": (lambda: BarJob((Bar("bar", 100, 1, 0),), (PART,)), "bars"),
    "no sheet left": (
        lambda: SheetJob((Sheet("sheet", 100, 80, 1, 0),), (RECT,)),
        "sheets",
    ),
    "a part that fits only what is used up": (
        lambda: SheetJob((SHEET, Sheet("s", 200, 80, 1, 0)), (Rect("x", 150, 10),)),
        "parts",
    ),
    "a bar that fits only what is used up": (
        lambda: BarJob((BAR, Bar("b", 200, 1, 0)), (BarPart("x", 150),)),
        "parts",
    ),
    "a bevel that lies flat": (lambda: Pair(90, 10), "bevel_deg"),
    "a bevel that is no number": (lambda: Pair(float("nan"), 10), "bevel_deg"),
    "a bevelled blank of no thickness": (lambda: Pair(45, 0), "thickness_ticks"),
    "a blank too narrow for its bevel": (
        lambda: SheetJob((SHEET,), (Rect("x", 50, 18, pair=Pair(45, 18)),), 1),
        "parts",
    ),
    "nothing to cut": (lambda: BarJob((BAR,), ()), "parts"),
    "a kerf below nothing": (lambda: BarJob((BAR,), (PART,), -1), "kerf_ticks"),
    "a trim below nothing": (lambda: BarJob((BAR,), (PART,), 0, -1), "trim_ticks"),
    "a kerf wider than a part": (lambda: BarJob((BAR,), (PART,), 51), "kerf_ticks"),
    "a kerf wider than a side": (lambda: SheetJob((SHEET,), (RECT,), 41), "kerf_ticks"),
    "two bars of one name": (lambda: BarJob((BAR, BAR), (PART,)), "bars"),
    "two parts of one name": (lambda: BarJob((BAR,), (PART, PART)), "parts"),
    "a part longer than a bar": (lambda: BarJob((BAR,), (BarPart("x", 101),)), "parts"),
    "a part too long once trimmed": (
        lambda: BarJob((BAR,), (BarPart("x", 99),), 0, 1),
        "parts",
    ),
    "a part wider than a sheet": (
        lambda: SheetJob((SHEET,), (Rect("x", 81, 81),)),
        "parts",
    ),
    "a part that fits no half": (
        lambda: SheetJob((SHEET,), (Rect("x", 60, 60),), halving=Halving.ACROSS),
        "parts",
    ),
    "too many kinds of stock": (
        lambda: BarJob(tuple(Bar(f"b{i}", 100) for i in range(201)), (PART,)),
        "bars",
    ),
    "ten thousand different parts": (
        lambda: BarJob((BAR,), tuple(BarPart(f"p{i}", 50) for i in range(10_000))),
        "parts",
    ),
    "more pieces than a plan holds": (
        lambda: BarJob((BAR,), (BarPart("x", 50, 100_001),)),
        "parts",
    ),
}


@pytest.mark.parametrize(("make", "field"), CASES.values(), ids=CASES.keys())
def test_it_is_refused_with_its_field_and_a_sentence(make, field):
    with pytest.raises(NestingError) as refused:
        make()
    assert refused.value.field == field
    assert refused.value.message[0].isupper() or refused.value.key
    assert refused.value.message.endswith(".")


def test_the_part_is_named():
    with pytest.raises(NestingError) as refused:
        BarJob((BAR,), (PART, BarPart("too long", 101)))
    assert refused.value.key == "too long"
    assert "too long" in refused.value.message
