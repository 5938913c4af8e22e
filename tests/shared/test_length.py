"""Lengths: what is read, what is refused, what is printed, and that nothing drifts."""

import json
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from shared import length
from shared.length import LengthError, UnitSystem, parse, show, show_exact, show_size
from tests.vectors import make_length

VECTORS = json.loads(make_length.FILE.read_text())
METRIC, IMPERIAL = UnitSystem.METRIC, UnitSystem.IMPERIAL
systems = st.sampled_from(UnitSystem)
HUNDRED_M = 100_000 * length.TICKS_PER_MM


def test_the_vectors_are_what_their_generator_writes():
    assert make_length.FILE.read_text() == make_length.as_text()
    assert Path(make_length.FILE).name == "length.json"


@pytest.mark.parametrize(("text", "units", "ticks"), VECTORS["readings"])
def test_reads_what_people_write(text, units, ticks):
    assert parse(text, units=UnitSystem(units)) == ticks


@pytest.mark.parametrize(("text", "units", "kind"), VECTORS["refusals"])
def test_refuses_with_a_kind(text, units, kind):
    with pytest.raises(LengthError) as refused:
        parse(text, units=UnitSystem(units))
    assert refused.value.kind == kind


@pytest.mark.parametrize(
    ("ticks", "units", "fraction", "unit_mark", "feet", "text"), VECTORS["shown"]
)
def test_prints_rounded(ticks, units, fraction, unit_mark, feet, text):
    units = UnitSystem(units)
    shown = show(ticks, units=units, fraction=fraction, unit_mark=unit_mark, feet=feet)
    assert shown == text


@pytest.mark.parametrize(("ticks", "units", "text"), VECTORS["exact"])
def test_prints_exactly(ticks, units, text):
    assert show_exact(ticks, units=UnitSystem(units)) == text


@pytest.mark.parametrize(("ticks", "units", "fraction", "exact"), VECTORS["exactness"])
def test_knows_when_printing_rounds(ticks, units, fraction, exact):
    units = UnitSystem(units)
    assert length.is_exact(ticks, units=units, fraction=fraction) is exact


@given(steps=st.integers(0, HUNDRED_M // 127), units=systems)
def test_every_sixty_fourth_of_an_inch_comes_back_exactly(steps, units):
    ticks = steps * 127
    assert parse(show_exact(ticks, units=units), units=units) == ticks


@given(steps=st.integers(0, HUNDRED_M // 40), units=systems)
def test_every_eighth_of_a_millimetre_comes_back_exactly(steps, units):
    ticks = steps * 40
    assert parse(show_exact(ticks, units=units), units=units) == ticks


@given(ticks=st.integers(-length.MAX_TICKS, length.MAX_TICKS), units=systems)
@example(ticks=length.MAX_TICKS, units=IMPERIAL)
@example(ticks=-1, units=IMPERIAL)
def test_every_tick_comes_back_in_either_system(ticks, units):
    text = show_exact(ticks, units=units)
    assert parse(text, units=units, allow_negative=True) == ticks


@given(steps=st.integers(0, HUNDRED_M // 127), feet=st.booleans())
def test_a_reading_of_the_tape_prints_as_itself(steps, feet):
    ticks = steps * 127
    shown = show(ticks, units=IMPERIAL, fraction=64, feet=feet)
    assert parse(shown, units=METRIC) == ticks


@given(
    ticks=st.integers(0, HUNDRED_M),
    units=systems,
    fraction=st.sampled_from(length.SHOWN_FRACTIONS),
)
def test_printing_is_never_off_by_more_than_half_a_step(ticks, units, fraction):
    shown = parse(show(ticks, units=units, fraction=fraction), units=units)
    step = 32 if units is METRIC else length.TICKS_PER_INCH // fraction
    assert 2 * abs(shown - ticks) <= step


@given(mm=st.decimals(0, 100_000, places=4), units=systems)
def test_lands_on_the_nearest_tick(mm, units):
    ticks = parse(f"{mm:f} mm", units=units)
    assert 2 * abs(Fraction(mm) * 320 - ticks) <= 1


@given(text=st.text(max_size=60), units=systems)
def test_any_text_is_read_or_refused_with_a_sentence(text, units):
    try:
        ticks, sentence = parse(text, units=units), "."
    except LengthError as refused:
        ticks, sentence = 0, refused.message
    assert 0 <= ticks <= length.MAX_TICKS
    assert sentence.endswith(".")


@pytest.mark.parametrize("units", UnitSystem)
def test_the_examples_of_a_refusal_work(units):
    with pytest.raises(LengthError) as refused:
        parse("", units=units)
    examples = refused.value.message.removeprefix("Type a length, such as ")[:-1]
    read = {
        parse(text, units=units) for text in examples.replace(" or ", ", ").split(", ")
    }
    assert read <= {1_200_000, 1_199_896}


def test_a_minus_is_read_only_where_it_makes_sense():
    assert parse("-12' 3 5/8\"", units=METRIC, allow_negative=True) == -1_199_896
    assert parse("− 5 mm", units=METRIC, allow_negative=True) == -1600


@pytest.mark.parametrize(
    ("value", "ticks"),
    [
        (1, 320),
        (0.1, 32),
        (Decimal("25.4"), 8128),
        (Fraction(1, 640), 1),
        (Fraction(-1, 640), -1),
        (Fraction(1, 641), 0),
    ],
)
def test_millimetres_go_to_the_nearest_tick_halves_away_from_zero(value, ticks):
    assert length.from_mm(value) == ticks


def test_conversions_agree_with_each_other():
    assert length.from_inches(Fraction(3, 64)) == 381
    assert length.to_mm(length.from_inches(1)) == 25.4
    assert length.to_inches(length.TICKS_PER_FOOT) == 12
    assert length.to_m(length.from_mm(3750)) == 3.75


@pytest.mark.parametrize("value", [float("nan"), float("inf"), Decimal("NaN")])
def test_what_is_no_number_is_no_length(value):
    with pytest.raises(ValueError, match="not a length"):
        length.from_mm(value)


def test_a_size_names_its_unit_once():
    sides = [length.from_inches(24), length.from_inches(Fraction(97, 2))]
    assert show_size(*sides, units=IMPERIAL) == "24 × 48 1/2 in"
    sides = [length.from_mm(mm) for mm in (600, 1200, 50)]
    assert show_size(*sides, units=METRIC) == "600 × 1200 × 50 mm"
