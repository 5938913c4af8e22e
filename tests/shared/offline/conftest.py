"""A device that sends writes, and a pad that takes them."""

import json
import uuid

import pytest
from django.urls import reverse

from shared.access import Right
from shared.offline import Forbidden, Op, Refused, register, registry
from shop.surveys.models import Room
from tests.factories.surveys import make_room

NOW_TAKEN = "2026-03-02T10:00:00Z"


def write(record, value, **more):
    """One item as a device makes it."""
    return {
        "key": str(uuid.uuid4()),
        "schema": 1,
        "op": "pad",
        "lane": f"pad:{record.pk}",
        "field": "notes",
        "base": 0,
        "value": value,
        "made_at": NOW_TAKEN,
    } | more


@pytest.fixture
def pad(db, monkeypatch):
    """A record with one text, and an op whose handler does as the text says."""
    monkeypatch.setattr(registry, "_ops", dict(registry._ops))

    def store(by, pk, field, value, at):
        Room.objects.filter(pk=pk).update(notes=value)
        if value == "refuse":
            raise Refused("Not this.")
        if value == "forbid":
            raise Forbidden
        if value == "break":
            raise RuntimeError(value)

    def read(pk, field):
        return Room.objects.get(pk=pk).notes

    register(Op("pad", "pad", frozenset({"notes", "more"}), Right.SURVEY, store, read))
    return make_room()


@pytest.fixture
def send(client_as):
    """Return a function that sends items as a person and gives the answers."""

    def sent(person, *items):
        body = json.dumps({"person": str(person.pk), "items": list(items)})
        response = post(client_as(person), body)
        assert response.status_code == 200, response.content
        return response.json()["answers"]

    return sent


def post(browser, body):
    """Send any body to the endpoint."""
    return browser.post(
        reverse("shared:offline-writes"), body, content_type="application/json"
    )


def notes(record):
    """What is stored."""
    return Room.objects.get(pk=record.pk).notes
