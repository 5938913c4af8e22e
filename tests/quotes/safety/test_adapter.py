"""What carries, as the load path counts it."""

from decimal import Decimal
from types import SimpleNamespace

import pytest

from quotes.safety import adapter
from quotes.specs.engine.model import Driver, ItemCount, ItemRole

EYE = {
    "name": "Eye bolt",
    "unit": "each",
    "rated_load_n": 500.0,
    "rating_source": "tag",
}


def counted(driver):
    item = ItemCount(
        material="eye",
        role=ItemRole.HARDWARE,
        driver=driver,
        quantity=Decimal(10),
        spare=Decimal(0),
        for_site=True,
        how="",
        in_load_path=True,
    )
    carried = SimpleNamespace(materials={"eye": EYE})
    return next(iter(adapter._hardware(carried, [item], {})))


@pytest.mark.parametrize(
    ("driver", "count", "per_job"),
    [(Driver.HANGING_POINT, 10.0, False), (Driver.JOB, 0.0, True)],
)
def test_a_part_counted_once_for_the_job_is_no_panels_own(driver, count, per_job):
    part = counted(driver)
    assert (part.count, part.per_job) == (count, per_job)
