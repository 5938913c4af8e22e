"""Quantities with their unit, read and shown in the shop's own."""

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from hypothesis import given
from hypothesis import strategies as st

from shared.conventions import Conventions, using
from shared.length import UnitSystem
from shared.quantities import AREA, AREA_MASS, DENSITY, LOAD, QuantityFormField

IMPERIAL = Conventions(unit_system=UnitSystem.IMPERIAL, locale="en_US")
MEASURES = [AREA, AREA_MASS, DENSITY, LOAD]


def _area():
    return QuantityFormField(AREA, label="Floor area")


@pytest.mark.parametrize(
    ("typed", "m2"),
    [
        ("42", "42"),
        ("42,5 m²", "42.5"),
        ("42.5m2", "42.5"),
        ("450 ft²", "41.8064"),
        ("450 sq. ft", "41.8064"),
        ("450sqft", "41.8064"),
    ],
)
def test_an_area_is_read_with_or_without_its_unit(typed, m2):
    assert _area().clean(typed) == Decimal(m2)


def test_a_bare_number_is_in_the_shops_unit():
    with using(IMPERIAL):
        assert _area().clean("450") == Decimal("41.8064")
        assert _area().prepare_value(Decimal("41.8064")) == "450 ft²"
        assert str(_area().label) == "Floor area, ft²"


@pytest.mark.parametrize("typed", ["-1", "0", "x", "42 acres", "m²", "1e3", "NaN"])
def test_what_is_no_area_is_refused_with_a_sentence(typed):
    with pytest.raises(ValidationError) as refused:
        _area().clean(typed)
    assert refused.value.messages[0].endswith(".")


def test_limits_are_said_in_the_shops_unit():
    field = QuantityFormField(AREA, label="Floor", max_value=5000)
    with using(IMPERIAL), pytest.raises(ValidationError, match="ft²"):
        field.clean("60000")


def test_a_load_must_say_its_unit():
    field = QuantityFormField(
        LOAD, label="Working load", unit_needed=True, example="50"
    )
    with pytest.raises(ValidationError, match="Write the unit"):
        field.clean("50")
    assert field.clean("50 kg") == Decimal("490.3325")
    assert field.clean("110 lbf") == Decimal("489.3044")
    assert field.clean("0.5 kN") == 500


@given(
    st.sampled_from(MEASURES),
    st.decimals(min_value="0.01", max_value="99999", places=4),
    st.booleans(),
)
def test_what_is_shown_reads_back_as_the_same(measure, value, imperial):
    field = QuantityFormField(measure, label="", unit_needed=True)
    with using(IMPERIAL if imperial else Conventions()):
        assert field.clean(field.prepare_value(value)) == value
