"""What is refused, with the field it stands in and a sentence."""

import pytest

from shared.nesting import Effort, NestingError
from shared.nesting.rolls import Lay, Roll, RollJob, RollPart, part_of, plan_rolls

ROLL, PART = Roll("roll", 100), part_of("part", 50, 40)
END = Roll("end", 100, length_ticks=50, price=0, priced_whole=True)


def job(*parts, rolls=(ROLL,), **rules):
    return RollJob(rolls, parts or (PART,), **rules)


CASES = {
    "a roll of no width": (lambda: Roll("roll", 0), "width_ticks"),
    "nothing between the selvedges": (lambda: Roll("r", 100, 50), "selvedge_ticks"),
    "a roll of no length": (lambda: Roll("r", 100, length_ticks=0), "length_ticks"),
    "a price below nothing": (lambda: Roll("r", 100, price=-1), "price"),
    "a missing price": (lambda: Roll("r", 100, price=0), "price"),
    "fewer than none": (lambda: Roll("r", 100, available=-1), "available"),
    "a piece of no width": (lambda: part_of("p", 0, 5), "across_ticks"),
    "a piece of no length": (lambda: part_of("p", 5, -1), "along_ticks"),
    "a piece with no way to lie": (lambda: RollPart("p", ()), "lays"),
    "no pieces of a part": (lambda: part_of("p", 5, 5, 0), "count"),
    "no drops": (lambda: RollPart("p", (Lay(5, 5, drops=0),)), "drops"),
    "an offset below nothing": (
        lambda: RollPart("p", (Lay(5, 5),), offset_ticks=-1),
        "offset_ticks",
    ),
    "no roll": (lambda: job(rolls=()), "rolls"),
    "zero stock": (lambda: job(rolls=(Roll("r", 100, available=0),)), "rolls"),
    "two rolls of one name": (lambda: job(rolls=(ROLL, ROLL)), "rolls"),
    "too many rolls": (
        lambda: job(rolls=tuple(Roll(f"r{i}", 100) for i in range(61))),
        "rolls",
    ),
    "nothing to cut": (lambda: RollJob((ROLL,), ()), "parts"),
    "two parts of one name": (lambda: job(PART, PART), "parts"),
    "a repeat of nothing": (lambda: job(repeat_ticks=0), "repeat_ticks"),
    "a repeat below nothing": (lambda: job(repeat_ticks=-5), "repeat_ticks"),
    "an offset beyond the repeat": (
        lambda: job(RollPart("p", (Lay(5, 5),), offset_ticks=9), repeat_ticks=9),
        "offset_ticks",
    ),
    "more spare than there is": (lambda: job(spare_percent=101), "spare_percent"),
    "spare below nothing": (lambda: job(spare_percent=-1), "spare_percent"),
    "a gap below nothing": (lambda: job(gap_ticks=-1), "gap_ticks"),
    "a trim below nothing": (lambda: job(trim_ticks=-1), "trim_ticks"),
    "a table of no length": (lambda: job(row_ticks=0), "row_ticks"),
    "a price for no length": (lambda: job(price_ticks=0), "price_ticks"),
    "a piece wider than the roll": (lambda: job(part_of("p", 101, 5)), "parts"),
    "a piece with nap that would fit turned": (
        lambda: job(part_of("p", 120, 50)),
        "parts",
    ),
    "a piece longer than the roll": (
        lambda: job(part_of("p", 50, 51), rolls=(END,)),
        "parts",
    ),
    "a piece too long with its spare": (
        lambda: job(part_of("p", 50, 50), rolls=(END,), spare_percent=1),
        "parts",
    ),
    "a roll narrower than its seams": (
        lambda: job(RollPart("p", (Lay(150, 5),), may_seam=True, seam_ticks=50)),
        "parts",
    ),
    "a group that can't all lie one way": (
        lambda: job(
            part_of("a", 101, 50, may_turn=True, group="g"),
            part_of("b", 50, 101, group="g"),
        ),
        "group",
    ),
    "ten thousand different pieces": (
        lambda: job(*(part_of(f"p{i}", 50, 40) for i in range(10_000))),
        "parts",
    ),
    "more pieces than a plan holds": (lambda: job(part_of("p", 5, 5, 20_001)), "parts"),
}


@pytest.mark.parametrize(("make", "field"), CASES.values(), ids=CASES.keys())
def test_it_is_refused_with_its_field_and_a_sentence(make, field):
    with pytest.raises(NestingError) as refused:
        make()
    assert refused.value.field == field
    assert refused.value.message[0].isupper() or refused.value.key
    assert refused.value.message.endswith(".")


def test_a_piece_wider_than_every_roll_is_named():
    with pytest.raises(
        NestingError, match="curtain is wider than every roll"
    ) as refused:
        job(PART, part_of("curtain", 101, 5))
    assert refused.value.key == "curtain"


def test_a_roll_too_short_for_all_says_what_is_left_over():
    with pytest.raises(NestingError, match="leaves over 1 of part") as refused:
        plan_rolls(job(part_of("part", 60, 30, 2), rolls=(END,)))
    assert refused.value.field == "rolls"


def test_when_no_dye_lot_is_enough_each_is_told():
    rolls = [
        Roll(k, 100, length_ticks=50, lot=lot) for k, lot in (("a", "7"), ("b", "8"))
    ]
    short = job(part_of("part", 60, 30, 2), rolls=tuple(rolls))
    with pytest.raises(NestingError, match="No dye lot is enough") as refused:
        plan_rolls(short)
    assert "Lot 7 leaves over 1 of part" in refused.value.message
    assert "Lot 8 leaves over" in refused.value.message


def test_ten_thousand_pieces_are_planned():
    many = job(*(part_of(f"p{i}", 20 + i, 30 + i, 400) for i in range(25)))
    plan = plan_rolls(many, Effort(work=100))
    assert sum(len(use.pieces) for use in plan.rolls) == 10_000
