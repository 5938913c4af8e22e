"""Client actions: whole or not at all, and constraints that hold without forms."""

import datetime as dt
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from shared.models import Entry
from shop.clients import actions
from shop.clients.models import Client, ClientDetails, ClientNote, Enquiry, Site
from tests.factories.clients import make_client, make_enquiry, make_site
from tests.factories.people import make_person

AT = dt.datetime(2026, 3, 2, 9, tzinfo=dt.UTC)


def test_a_refused_enquiry_leaves_no_client_behind(office):
    with pytest.raises(ValidationError):
        actions.add_client(
            ClientDetails(name="Mara"),
            enquiry=Enquiry(asked_on=AT.date(), bothers=""),
            by=office,
            at=AT,
        )
    assert not Client.objects.exists()
    assert not Entry.objects.exists()


def test_a_refused_site_leaves_no_client_behind(office):
    with pytest.raises(ValidationError):
        actions.add_client(
            ClientDetails(name="Mara"), site=Site(address=""), by=office, at=AT
        )
    assert not Client.objects.exists()


def test_the_ballpark_keeps_the_rates_of_its_day(office, shop):
    shop.ballpark_per_m2_from = shop.ballpark_per_m2_to = Decimal(70)
    shop.save()
    enquiry = make_enquiry(floor_m2=Decimal(10))
    actions.change_enquiry(enquiry, by=office, at=AT)
    shop.ballpark_per_m2_from = shop.ballpark_per_m2_to = Decimal(99)
    shop.save()
    enquiry.refresh_from_db()
    assert enquiry.ballpark_to == 700


def _note(**fields):
    return ClientNote.objects.create(client=make_client(), at=AT, **fields)


@pytest.mark.parametrize(
    "broken",
    [
        lambda: make_client(name=""),
        lambda: make_enquiry(budget_from=Decimal(2), budget_to=Decimal(1)),
        lambda: make_enquiry(budget_to=Decimal(-1)),
        lambda: make_enquiry(use="dungeon"),
        lambda: make_enquiry(tenure="king"),
        lambda: make_enquiry(bothers=""),
        lambda: make_site(address=""),
        lambda: make_site(setting="secret"),
        lambda: make_site(distance_km=Decimal(-1)),
        lambda: _note(text="", by=make_person()),
    ],
)
def test_the_database_holds_the_rules_by_itself(db, broken):
    with pytest.raises(IntegrityError), transaction.atomic():
        broken()
