"""The cast and the factories give valid rows."""

import pytest

from shared.access import Right
from tests.factories import catalogue, clients

MAKERS = (
    catalogue.make_supplier,
    catalogue.make_sheet,
    catalogue.make_board,
    catalogue.make_fabric,
    catalogue.make_fill,
    catalogue.make_hardware,
    catalogue.make_consumable,
    catalogue.make_operation,
    clients.make_client,
    clients.make_enquiry,
    clients.make_site,
)


@pytest.mark.django_db
@pytest.mark.parametrize("make", MAKERS)
def test_a_factory_makes_a_valid_row(make):
    make().full_clean()


def test_only_owner_and_office_see_money(owner, office, maker, fitter):
    sees = [p.may(Right.SEE_MONEY) for p in (owner, office, maker, fitter)]
    assert sees == [True, True, False, False]
