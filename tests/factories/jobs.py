"""Jobs and panels, from a snapshot small enough to read."""

from __future__ import annotations

import datetime as dt
import hashlib
import itertools
import uuid
from typing import Any

from jobs.board.actions import open_job
from quotes.offers.models import Quote, QuoteRevision, QuoteState
from shared.files.actions import keep
from tests.factories.clients import make_client
from tests.factories.people import make_person

AT = dt.datetime(2026, 3, 2, 9, 0, tzinfo=dt.UTC)
_numbers = itertools.count(1)


def tiny_snapshot(*, client_id, panels=2, fabric="Heather, slate") -> dict[str, Any]:
    """Return a schema 1 snapshot with one group of like wall panels."""
    return {
        "schema": 1,
        "shop": {
            "name": "Bevel & Batten",
            "currency": "EUR",
            "locale": "en_GB",
            "unit_system": "metric",
            "fraction": 16,
            "time_zone": "Europe/London",
            "paper": "A4",
        },
        "client": {"id": str(client_id), "name": "Mara Quill"},
        "rooms": [
            {
                "id": "room-1",
                "name": "Front room",
                "site": {},
                "walls": [],
                "ceiling": {},
            }
        ],
        "builds": {"wall": {"name": "Wall panel", "kind": "wall"}},
        "materials": {"cloth": {"name": fabric, "kind": "fabric", "colour": "slate"}},
        "groups": {
            "g1": {
                "build": "wall",
                "room": "room-1",
                "width_ticks": 600 * 320,
                "width_text": "600",
                "height_ticks": 1200 * 320,
                "height_text": "1200",
                "fabric": "cloth",
                "count": panels,
                "takeoff": {},
                "drawings": {},
            }
        },
        "panels": [
            {
                "planned_panel": str(uuid.uuid4()),
                "number": number,
                "group": "g1",
                "note": "",
            }
            for number in range(1, panels + 1)
        ],
        "price": {"gross": "100.00"},
        "costs": {"secret": "77.77"},
    }


def make_revision(*, client=None, by=None, snapshot=None, panels=2) -> QuoteRevision:
    """Return a sent revision A of a new quote."""
    client = client or make_client()
    by = by or make_person(role="owner")
    quote = Quote.objects.create(
        number=f"T-{next(_numbers)}",
        client=client,
        state=QuoteState.SENT,
        valid_until=dt.date(2026, 4, 1),
        made_by=by,
    )
    return QuoteRevision.objects.create(
        quote=quote,
        letter="A",
        snapshot=snapshot or tiny_snapshot(client_id=client.pk, panels=panels),
        schema=1,
        draft_sha256=hashlib.sha256(b"draft").hexdigest(),
        pdf=keep(b"%PDF-", name="quote.pdf", content_type="application/pdf"),
        total="100.00",
        currency="EUR",
        valid_until=dt.date(2026, 4, 1),
        sent_at=AT,
        sent_by=by,
    )


def make_job(*, client=None, by=None, panels=2, revision=None, at=AT):
    """Return an open job of two like panels, all planned."""
    by = by or make_person(role="owner")
    revision = revision or make_revision(client=client, by=by, panels=panels)
    from django.db import transaction

    with transaction.atomic():
        return open_job(revision, by, at)
