"""What people and seats swallow, against the tables that printed it.

Marks: S a transcription of the source was read, D derived from what stands beside it.
Source: VOR, Vorländer, Auralization (Springer 2008), annex. Tolerance 0 for what is copied.
"""

import pytest

from shop.surveys.engine.seats import (
    AUDIENCE,
    CLOTH_SEATS,
    FIELD_STUDY_M2,
    ITEMS,
    LEATHER_SEATS,
    NOT_SOURCED,
)
from shop.surveys.models import FurnitureKind


@pytest.mark.parametrize(
    ("density", "shares"),
    [
        # S: VOR, audience by people on a m².
        (0.72, (0.10, 0.21, 0.41, 0.65, 0.75, 0.71)),
        (1, (0.16, 0.29, 0.55, 0.80, 0.92, 0.90)),
        (2, (0.26, 0.46, 0.87, 0.99, 0.99, 0.99)),
    ],
)
def test_an_audience_is_copied_as_printed(density, shares):
    assert [d.shares for d in AUDIENCE if d.per_m2 == density] == [shares]


def test_seats_are_copied_as_printed():
    # S: VOR, two empty seats on a m².
    assert CLOTH_SEATS.shares == (0.44, 0.60, 0.77, 0.89, 0.82, 0.70)
    assert LEATHER_SEATS.shares == (0.40, 0.50, 0.58, 0.61, 0.58, 0.50)
    assert CLOTH_SEATS.per_m2 == LEATHER_SEATS.per_m2 == 2


@pytest.mark.parametrize(
    ("density", "areas"),
    [
        # D: share by m² over people on a m²; tolerance half of the last digit.
        (1, (0.16, 0.29, 0.55, 0.80, 0.92, 0.90)),
        (2, (0.13, 0.23, 0.435, 0.495, 0.495, 0.495)),
        (0.72, (0.139, 0.292, 0.569, 0.903, 1.042, 0.986)),
    ],
)
def test_a_persons_area_follows_from_the_density(density, areas):
    (found,) = (d.areas_m2 for d in AUDIENCE if d.per_m2 == density)
    assert found == pytest.approx(areas, abs=0.0005)


def test_a_cloth_seats_area_is_half_of_its_share():
    # D: .44 .60 .77 .89 .82 .70 over two seats on a m².
    assert ITEMS["soft_seat"].areas_m2 == pytest.approx(
        (0.22, 0.30, 0.385, 0.445, 0.41, 0.35), abs=1e-12
    )


def test_a_field_study_in_churches_lies_near():
    # S: abstract of a field study, m² a person; a glossary gives 0.2 at 500 Hz.
    assert FIELD_STUDY_M2 == (0.29, 0.43, 0.51, 0.68, 0.71, 0.73)
    person = ITEMS["person"].areas_m2
    assert 0.2 < person[2] < 0.57


def test_every_kind_is_answered_and_a_sofa_is_not_sourced():
    assert set(ITEMS) == set(FurnitureKind.values)
    assert ITEMS["sofa"].areas_m2 is None
    assert ITEMS["sofa"].source == NOT_SOURCED
    assert all(
        (i.areas_m2 is None) == (i.source == NOT_SOURCED) for i in ITEMS.values()
    )
