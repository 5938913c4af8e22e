"""What the tests of buying share: a supplier, a sheet of theirs, a job, two orders."""

import pytest

from tests.factories.buying import make_order, make_order_line
from tests.factories.catalogue import make_sheet, make_supplier
from tests.factories.jobs import make_job


@pytest.fixture
def yard(shop):
    return make_supplier(name="Yard", email="yard@example.org", lead_days=4)


@pytest.fixture
def ply(yard):
    return make_sheet(name="Ply", supplier=yard)


@pytest.fixture
def job(owner):
    return make_job(by=owner)


@pytest.fixture
def draft(yard, ply):
    made = make_order(supplier=yard)
    make_order_line(order=made, material=ply, packs=3)
    return made


@pytest.fixture
def placed(yard, ply):
    made = make_order(supplier=yard, placed=True)
    make_order_line(order=made, material=ply, packs=3)
    return made


@pytest.fixture
def page(client_as, office):
    return client_as(office)
