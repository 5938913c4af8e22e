"""A small fixed cast: one person of each role, a stranger, and how they open pages."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from shop.people.models import Person, ShopProfile
from tests.factories.people import make_person, make_profile

AS_HTMX = {"HX-Request": "true"}
"""Headers of a request that wants a fragment."""

Browser = Callable[..., Client]


@pytest.fixture
def shop(db) -> ShopProfile:
    """The one shop of this installation: metric, euros."""
    return make_profile()


@pytest.fixture
def owner(db) -> Person:
    """Ada runs the shop and may do everything."""
    return make_person(username="ada", first_name="Ada", role="owner")


@pytest.fixture
def office(db) -> Person:
    """Olek keeps clients, quotes and stores."""
    return make_person(username="olek", first_name="Olek", role="office")


@pytest.fixture
def maker(db) -> Person:
    """Mina works at the bench and sees no money."""
    return make_person(username="mina", first_name="Mina", role="maker")


@pytest.fixture
def fitter(db) -> Person:
    """Finn drives the van and sees no money."""
    return make_person(username="finn", first_name="Finn", role="fitter")


@pytest.fixture
def client_as() -> Browser:
    """Open pages as one of the cast: ``client_as(owner).get(url)``."""

    def signed_in(person: Person, **defaults: Any) -> Client:
        browser = Client(**defaults)
        browser.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
        return browser

    return signed_in


@pytest.fixture
def count_queries() -> Callable[[Callable[[], object]], int]:
    """Count the queries of a call: compare a page of 2 rows with one of 20."""

    def count(call: Callable[[], object]) -> int:
        with CaptureQueriesContext(connection) as caught:
            call()
        return len(caught)

    return count
