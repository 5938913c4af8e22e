"""Signing in and out."""

import pytest
from django.test import Client
from django.urls import reverse

from tests.factories.people import PASSWORD
from tests.pages import refused, soup, text

SIGN_IN = "/accounts/login/"


@pytest.fixture
def visitor():
    return Client()


def _enter(visitor, **given):
    return visitor.post(SIGN_IN, {"username": "mina", "password": PASSWORD} | given)


def test_a_page_sends_a_visitor_to_sign_in_and_back(visitor, maker):
    wanted = reverse("shop:person", args=[maker.pk])
    response = visitor.get(wanted)
    assert response["Location"] == f"{SIGN_IN}?next={wanted}"
    assert _enter(visitor, next=wanted)["Location"] == wanted


def test_signing_in_leads_to_the_work(visitor, maker):
    assert _enter(visitor)["Location"] == "/"


def test_another_site_is_never_gone_to(visitor, maker):
    assert _enter(visitor, next="https://elsewhere.example/")["Location"] == "/"


def test_a_wrong_password_is_said_and_keeps_the_name(visitor, maker):
    response = _enter(visitor, password="guess")
    assert response.status_code == 422
    page = soup(response)
    assert "don’t go together" in text(page.find(id="form-errors"))
    assert page.find(attrs={"name": "username"})["value"] == "mina"


@pytest.mark.parametrize("field", ["username", "password"])
def test_an_empty_field_is_said_beside_it(visitor, maker, field):
    refused(
        visitor, SIGN_IN, {"username": "mina", "password": "x"} | {field: ""}, field
    )


@pytest.mark.parametrize("name", ["a\0b", "a" * 5000])
def test_a_name_that_cannot_be_is_refused(visitor, maker, name):
    assert _enter(visitor, username=name).status_code == 422


def test_somebody_who_left_cannot_sign_in(visitor, maker):
    maker.is_active = False
    maker.save()
    assert _enter(visitor).status_code == 422


def test_ten_wrong_passwords_shut_the_door(visitor, maker):
    for _ in range(10):
        response = _enter(visitor, password="guess")
    assert response.status_code == 429
    assert "shut for a while" in text(soup(response).h1)
    assert _enter(visitor).status_code == 429


def test_whoever_is_signed_in_goes_on_to_the_work(client_as, maker):
    assert client_as(maker).get(SIGN_IN)["Location"] == "/"


def test_signing_out_takes_a_post_and_ends_the_session(client_as, maker):
    browser = client_as(maker)
    assert browser.get("/accounts/logout/").status_code == 405
    assert browser.post("/accounts/logout/")["Location"] == SIGN_IN
    assert browser.get(reverse("shop:person", args=[maker.pk])).status_code == 302
