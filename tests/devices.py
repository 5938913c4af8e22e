"""A device that was away: what it writes, and how it sends that."""

from __future__ import annotations

import json
import uuid

import pytest
from django.urls import reverse

NOW_TAKEN = "2026-03-02T10:00:00Z"


def write(record, value, **more):
    """One item as a device makes it."""
    return {
        "key": str(uuid.uuid4()),
        "schema": 2,
        "op": "pad",
        "lane": f"pad:{record.pk}",
        "field": "notes",
        "base": 0,
        "value": value,
        "made_at": NOW_TAKEN,
    } | more


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
