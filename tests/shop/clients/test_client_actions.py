"""Client actions: whole or not at all, and constraints that hold without forms."""

import datetime as dt
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from shared.models import Entry
from shop.clients import actions
from shop.clients.models import Client, ClientDetails, Enquiry, Site
from tests.factories.clients import make_client, make_enquiry

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


def test_a_client_without_a_name_is_refused_by_the_database(db):
    with pytest.raises(IntegrityError), transaction.atomic():
        make_client(name="")


def test_a_budget_upside_down_is_refused_by_the_database(db):
    with pytest.raises(IntegrityError), transaction.atomic():
        make_enquiry(budget_from=Decimal(2), budget_to=Decimal(1))
