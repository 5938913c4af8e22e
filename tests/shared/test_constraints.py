"""Check constraints read in Python say what the database says."""

import pytest
from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import F, Func, Q
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shared.constraints import check_row, holds
from shop.catalogue.models import Finish, Material, MaterialKind, Operation
from tests.factories import catalogue as make

SMALL = st.none() | st.integers(-1, 5)
ROWS = st.builds(
    Material,
    kind=st.sampled_from([*MaterialKind.values, "lead"]),
    unit=st.sampled_from(["each", "m", "ton"]),
    thickness_ticks=SMALL,
    width_ticks=SMALL,
    length_ticks=SMALL,
    selvedge_ticks=SMALL,
    repeat_ticks=SMALL,
    density_kg_m3=SMALL,
    mass_g_m2=SMALL,
    mass_g_each=SMALL,
    flow_resistivity=SMALL,
    pack_quantity=st.integers(-1, 2),
    pack_price=SMALL,
    rated_load_n=SMALL,
    rating_source=st.sampled_from(["", "stamped on the eye"]),
)


def by_database(row):
    """Return the names of the constraints that Django's own question finds broken."""
    broken = set()
    for constraint in row._meta.constraints:
        if isinstance(constraint, models.CheckConstraint):
            try:
                constraint.validate(type(row), row)
            except ValidationError:
                broken.add(constraint.name)
    return broken


def by_python(row, **kwargs):
    try:
        check_row(row, **kwargs)
    except ValidationError as found:
        return {error.code for error in found.error_list}
    return set()


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(row=ROWS)
def test_python_and_the_database_agree(db, row):
    assert by_python(row) == by_database(row)


@pytest.mark.parametrize("model", [Material, Operation, Finish])
def test_no_constraint_of_the_stores_is_left_to_the_database(
    db, django_assert_num_queries, model
):
    with django_assert_num_queries(0):
        by_python(model())


def test_one_on_a_field_that_was_left_out_is_not_asked(db):
    row = Material(kind="hardware", pack_quantity=0, pack_price=-1)
    both = by_python(row)
    assert len(both) == 2
    assert len(by_python(row, exclude={"pack_price"})) == 1


def test_unknown_passes_and_is_told_apart():
    row = Material(width_ticks=None, pack_quantity=2)
    assert holds(Q(width_ticks__gt=0), row) is None
    assert holds(~Q(width_ticks__gt=0), row) is None
    assert holds(Q(width_ticks__gt=0) | Q(pack_quantity=2), row) is True
    assert holds(Q(width_ticks__gt=0) & Q(pack_quantity=3), row) is False
    assert holds(Q(pack_quantity__lt=F("width_ticks") + 1), row) is None


def test_a_condition_that_python_can_not_read_goes_to_the_database(db, monkeypatch):
    odd = models.CheckConstraint(
        condition=Q(pack_quantity__lt=Func(F("pack_quantity"), function="ABS")),
        name="odd",
        violation_error_message="A pack can't be more than itself.",
    )
    row = make.make_hardware()
    monkeypatch.setattr(row._meta, "constraints", [odd])
    with pytest.raises(ValidationError, match="itself"):
        check_row(row)
