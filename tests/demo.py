"""The demo as tests use it: loaded once for each module, and gone after it."""

from __future__ import annotations

import pytest
from django.db import transaction
from django.utils import timezone

from jobs.demo.loading import load


@pytest.fixture(scope="module")
def demo(django_db_setup, django_db_blocker):
    """Load the demo as of now for the tests of one module, which may change it.

    Each test's own transaction lies inside this one, so that nothing outlives the module.
    """
    with django_db_blocker.unblock(), transaction.atomic():
        load(timezone.now())
        yield
        transaction.set_rollback(True)
