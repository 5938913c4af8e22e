"""The endpoint never redirects, never fails, and says what is wrong with a sentence."""

import json
import uuid

import pytest
from django.test import Client
from django.urls import reverse

from shared.offline.models import Write
from tests.devices import post, write
from tests.shared.offline.conftest import notes

BAD_BATCHES = [
    b"",
    b"{",
    b"\xff\xfe",
    b"[]",
    b"null",
    b'"items"',
    b"{}",
    b'{"items": {}}',
    b'{"items": [1]}',
    b'{"items": [{}]}',
    b'{"items": [{"key": "7"}]}',
    b'{"items": [{"key": 7}]}',
    b"[" * 100_000,
    b'{"items": ' + b"9" * 6000 + b"}",
    json.dumps({"items": [{"key": str(uuid.uuid4())}] * 51}).encode(),
    b'{"items": [], "more": "' + b"x" * 1_000_000 + b'"}',
    b'{"items": [], "more": "' + b"x" * 3_000_000 + b'"}',
]


@pytest.mark.parametrize("body", BAD_BATCHES, ids=range(len(BAD_BATCHES)))
def test_junk_gets_a_sentence(pad, fitter, client_as, body):
    response = post(client_as(fitter), body)
    assert response.status_code == 400
    assert response.json()["sentence"].endswith(".")


BAD_ITEMS = [
    {"lane": "pad"},
    {"lane": "pad:7"},
    {"lane": 7},
    {"lane": ":00000000-0000-4000-8000-000000000000"},
    {"op": None},
    {"op": "x" * 41},
    {"field": ["notes"]},
    {"field": "a\0b"},
    {"base": -1},
    {"base": 1.5},
    {"base": True},
    {"base": 2**40},
    {"value": None},
    {"value": 7},
    {"value": "x" * 5001},
    {"value": "a\0b"},
    {"value": "\ud800"},
    {"schema": None},
    {"schema": True},
]


@pytest.mark.parametrize("odd", BAD_ITEMS, ids=str)
def test_one_odd_item_is_refused_and_spoils_no_other(pad, fitter, send, odd):
    answers = send(fitter, write(pad, "odd") | odd, write(pad, "fine"))
    assert [a["status"] for a in answers] == ["refused", "stored"]
    assert answers[0]["sentence"].endswith(".")
    assert notes(pad) == "fine"


def test_nothing_to_send_is_fine(fitter, send):
    assert send(fitter) == []


def test_signed_out_is_401_and_no_redirect(pad):
    response = post(Client(), json.dumps({"items": [write(pad, "one")]}))
    assert response.status_code == 401
    assert response.json()["error"] == "signed_out"
    assert not Write.objects.exists()


def test_a_page_left_open_by_somebody_else_sends_nothing(pad, fitter, owner, client_as):
    body = {"person": str(fitter.pk), "items": [write(pad, "one")]}
    response = post(client_as(owner), json.dumps(body))
    assert response.status_code == 401
    assert response.json()["error"] == "somebody_else"
    assert notes(pad) == ""


def test_an_old_token_is_told_where_a_fresh_one_is(pad, fitter, client_as):
    browser = client_as(fitter, enforce_csrf_checks=True)
    body = json.dumps({"person": str(fitter.pk), "items": [write(pad, "one")]})
    response = post(browser, body)
    assert response.status_code == 403
    assert response.json()["error"] == "token"
    fresh = browser.get(response.json()["token_url"]).json()
    assert fresh["person"] == str(fitter.pk)
    response = browser.post(
        reverse("shared:offline-writes"),
        body,
        content_type="application/json",
        headers={"X-CSRFToken": fresh["token"]},
    )
    assert response.json()["answers"][0]["status"] == "stored"


def test_other_forms_fail_as_ever_without_a_token(fitter, client_as):
    browser = client_as(fitter, enforce_csrf_checks=True)
    response = browser.post(reverse("shop:sign-out"))
    assert response.status_code == 403
    assert response["Content-Type"].startswith("text/html")


def test_a_token_is_nobodys_business_to_keep(client_as, fitter):
    response = client_as(fitter).get(reverse("shared:offline-token"))
    assert "no-store" in response["Cache-Control"]
    assert Client().get(reverse("shared:offline-token")).json()["person"] == ""


def test_it_is_sent_and_not_fetched(fitter, client_as):
    assert client_as(fitter).get(reverse("shared:offline-writes")).status_code == 405
