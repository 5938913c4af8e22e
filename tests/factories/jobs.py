"""Jobs and panels, from a snapshot small enough to read."""

from __future__ import annotations

import datetime as dt
import functools
import hashlib
import itertools
import uuid
from dataclasses import fields, replace
from typing import Any

from django.db import transaction

from jobs.board.actions import open_job
from jobs.board.models import Job
from quotes.offers.models import Quote, QuoteRevision, QuoteState
from quotes.specs.engine import take_off
from quotes.specs.engine.drawing import Panel, Paper, panel_drawing, panel_thumbnail
from quotes.specs.engine.model import NominalSize, Stock, StockKind
from quotes.specs.engine.preset_stock import preset_stock
from quotes.specs.engine.presets import five_builds
from quotes.specs.frozen import to_json
from shared.files.actions import keep
from shared.length import UnitSystem, from_mm
from tests.factories.clients import make_client, make_site
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


def make_job(*, client=None, by=None, panels=2, revision=None, at=AT) -> Job:
    """Return an open job of two like panels, all planned."""
    by = by or make_person(role="owner")
    revision = revision or make_revision(client=client, by=by, panels=panels)
    with transaction.atomic():
        return open_job(revision, by, at)


def full_snapshot(
    *,
    client_id,
    site=None,
    kinds=(("wall-panel", 600, 1200, 2), ("hung-panel", 1200, 900, 1)),
    rated_n=None,
    units=UnitSystem.METRIC,
    **room,
) -> dict[str, Any]:
    """Return a schema 1 snapshot of panels taken off from the five builds.

    `kinds` are (build, width, height in mm, count); `rated_n` rates all hardware; `room`
    overrides facts of the one room.
    """
    builds = {build.key: build for build in five_builds(units)}
    stock = {each.key: each for each in preset_stock(units)}
    groups = {
        f"g{i}": _group(key, width, height, units, f"g{i}") | {"count": count}
        for i, (key, width, height, count) in enumerate(kinds)
    }
    made = tiny_snapshot(client_id=client_id)
    made["shop"] |= {"unit_system": units.value}
    made["rooms"][0] |= {
        "use": "cafe",
        "sleeping_or_basement": False,
        "site": {"id": str(site.pk), "year_built": site.year_built} if site else {},
        "walls": [{"name": "A", "construction": "brick", "heated": False}],
        "ceiling": {"construction": "board_wood", "heated": False},
        "zones": [],
    } | room
    made["builds"] = {key: to_json(builds[key]) for key, *_ in kinds}
    made["materials"] = {key: _facts(each, rated_n) for key, each in stock.items()}
    made["groups"] = groups
    names = [name for name, group in groups.items() for _ in range(group["count"])]
    made["panels"] = [
        {"planned_panel": str(uuid.uuid4()), "number": i, "group": name, "note": ""}
        for i, name in enumerate(names, start=1)
    ]
    return made


@functools.cache
def _group(name, width, height, units, key) -> dict[str, Any]:
    """Take off and draw one kind of panel; once for all tests, since it never changes."""
    stock = {each.key: each for each in preset_stock(units)}
    build = next(build for build in five_builds(units) if build.key == name)
    size = NominalSize(from_mm(width), from_mm(height))
    takeoff = take_off(build, size, stock, units=units)
    drawn = Panel(takeoff, build.back_style, frozenset({"frame-ply"}))
    paper = Paper(key=key, title=build.name, units=units, width_mm=28, height_mm=28)
    sheet = replace(paper, key=f"d{key}", width_mm=178, height_mm=130)
    return {
        "build": build.key,
        "room": "room-1",
        "width_ticks": from_mm(width),
        "width_text": str(width),
        "height_ticks": from_mm(height),
        "height_text": str(height),
        "fabric": build.front_fabric,
        "takeoff": to_json(takeoff),
        "drawings": {
            "thumb": panel_thumbnail(drawn, paper).svg(),
            "sheet": panel_drawing(drawn, sheet).svg(),
        },
    }


def _facts(stock: Stock, rated_n) -> dict[str, Any]:
    counted = stock.kind in (StockKind.HARDWARE, StockKind.CONSUMABLE)
    facts = {f.name: getattr(stock, f.name) for f in fields(stock) if f.name != "key"}
    return facts | {
        "code": stock.key,
        "kind": str(stock.kind),
        "colour": "",
        "rated_load_n": rated_n if counted else None,
        "rating_source": "maker's tag" if counted and rated_n else "",
    }


def make_full_job(*, client=None, by=None, at=AT, year_built=1931, **snapshot) -> Job:
    """Return an open job whose panels were taken off: two on cleats, one overhead."""
    client = client or make_client()
    by = by or make_person(role="owner")
    site = make_site(client=client, year_built=year_built)
    made = full_snapshot(client_id=client.pk, site=site, **snapshot)
    return make_job(
        by=by, at=at, revision=make_revision(client=client, by=by, snapshot=made)
    )
