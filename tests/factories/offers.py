"""Quotes: a small one of two wall panels, and the café of the reference job."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from decimal import Decimal
from random import Random
from typing import Any
from unittest import mock

from quotes.offers.actions import Cover, put_line, send_quote, start_quote
from quotes.offers.draft import work_out_draft
from quotes.offers.models import FreeLine, Quote, QuoteRevision
from quotes.offers.snapshot import snapshot_of
from quotes.pricing.models import LineKind, PriceRules, TaxRate
from quotes.specs.engine.model import NominalSize
from quotes.specs.models import BuildSpec, PlannedPanel
from quotes.specs.starter import install_starter
from shared.conventions import using
from shared.length import UnitSystem, from_inches
from shop.catalogue.models import Material
from shop.clients.models import Client, Site
from shop.people.models import Person
from shop.people.reports import profile
from shop.surveys.models import Room, Survey, Wall
from tests.factories.catalogue import mm
from tests.factories.clients import make_client, make_site
from tests.factories.people import make_profile
from tests.factories.specs import make_planned, make_spec

AT = dt.datetime(2026, 3, 2, 9, 0, tzinfo=dt.UTC)
COVER = Cover(
    to="mara@example.org", subject="Your quote", body="Dear Mara, here it is."
)


def make_rules(*, tax: str | None = "20", **fields: Any) -> PriceRules:
    """The shop's price rules: a quarter overhead, markup of 40 %, half as deposit."""
    usual = {
        "overhead_percent": Decimal(25),
        "profit_percent": Decimal(40),
        "deposit_percent": Decimal(50),
    }
    rules, _ = PriceRules.objects.update_or_create(id=1, defaults=usual | fields)
    for kind in LineKind.values if tax is not None else ():
        TaxRate.objects.update_or_create(
            line_kind=kind, defaults={"percent": Decimal(tax or 0)}
        )
    return rules


def make_room(
    *,
    client: Client | None = None,
    site: Site | None = None,
    name: str = "Front room",
    **fields: Any,
) -> Room:
    """A room at a site of a client."""
    room = Room(site=site or make_site(client=client), name=name, **fields)
    room.index()
    room.save()
    return room


def make_survey(*, room: Room, by: Person, **fields: Any) -> Survey:
    """A rectangular room of four walls, 6 × 4 × 2.6 m."""
    survey: Survey = Survey.objects.create(
        room=room, measured_by=by, measured_on=AT.date(), **_height(), **fields
    )
    for position, metres in enumerate((6, 4, 6, 4)):
        Wall.objects.create(
            survey=survey,
            position=position,
            name=f"Wall {'ABCD'[position]}",
            length_ticks=mm(metres * 1000),
            length_text=f"{metres} m",
            construction="brick" if position == 0 else "board_wood",
        )
    return survey


def _height() -> dict[str, Any]:
    return {"height_ticks": mm(2600), "height_text": "2.6 m"}


def make_quote(
    *,
    by: Person,
    at: dt.datetime = AT,
    client: Client | None = None,
    rooms: Iterable[Room] | None = None,
    spec: BuildSpec | None = None,
    panels: int = 2,
    **fields: Any,
) -> Quote:
    """A draft of two like wall panels for one room of a client with an e-mail address."""
    client = client or make_client(email="mara@example.org")
    if rooms is None:
        room = make_room(client=client)
        spec = spec or (make_spec() if panels else None)
        for _ in range(panels):
            make_planned(room=room, spec=spec)
        rooms = [room]
    quote = start_quote(client, rooms=rooms, by=by, at=at)
    for name, value in fields.items():
        setattr(quote, name, value)
    quote.save()
    return quote


def make_line(*, quote: Quote, by: Person, **fields: Any) -> FreeLine:
    """A line that no panel makes."""
    usual: dict[str, Any] = {
        "text": "Take down old boards",
        "quantity": Decimal(1),
        "unit_price": Decimal("120.00"),
    }
    return put_line(FreeLine(quote=quote, **usual | fields), by=by, at=AT)


def make_sent(
    *, by: Person, at: dt.datetime = AT, quote: Quote | None = None, **fields: Any
) -> QuoteRevision:
    """A quote as it was sent. Prints a PDF, so it takes a moment."""
    return send_quote(quote or make_quote(by=by, **fields), COVER, by=by, at=at)


def snapshot_of_draft(quote: Quote, *, letter: str = "A") -> dict[str, Any]:
    """What would be kept if the draft were sent at `AT`, in its shop's conventions."""
    with using(profile().conventions()):
        draft = work_out_draft(quote)
        assert draft.priced is not None, draft.trouble
        return snapshot_of(
            draft,
            draft.priced,
            letter=letter,
            sent_on=AT.date(),
            valid_until=AT.date() + dt.timedelta(days=quote.valid_days),
        )


CAFE_SHOP: dict[str, Any] = {
    "name": "Bevel & Batten",
    "strapline": "Panels that take the ring out of a room",
    "address": "Unit 6, Old Tram Shed\nWeir Lane\nSample Town ST1 4QX",
    "phone": "+44 1632 960 144",
    "email": "bench@example.org",
    "web": "example.org/bevel",
    "tax_number": "GB 000 0000 00",
    "how_to_pay": "By transfer to Bevel & Batten, IBAN XX00 0000 0000 0000 0000 00,\n"
    "with the number of this quote.",
    "terms": "Panels stay ours until they are paid for.\n\nA change after your yes is"
    " priced and agreed in writing before it is made.",
    "invented": True,
}

CAFE_SCOPE = (
    "We build, cover and hang 21 panels on the walls, below the ceiling, in the window of"
    " the back room and in two corners, so that guests at one table stop hearing the next."
)

CafePanels = tuple[str, int, int, int, str]
"""Kind, count, width and height in mm, fabric by code ("" is the build's own)."""

CAFE_PANELS: tuple[CafePanels, ...] = (
    ("wall", 8, 600, 1200, ""),
    ("wall", 6, 600, 1200, "harbour-moss"),
    ("hung", 4, 1200, 900, "kiln-brick"),
    ("reveal", 1, 873, 1411, ""),
    ("corner", 2, 400, 1200, "kiln-ink"),
)


def make_cafe(
    *,
    by: Person,
    units: UnitSystem = UnitSystem.METRIC,
    panels: Iterable[CafePanels] = CAFE_PANELS,
    **shop: Any,
) -> Quote:
    """The draft of the reference job: a café, 21 panels of four builds."""
    profile = CAFE_SHOP | {"unit_system": units.value, "time_zone": "Europe/London"}
    make_profile(**profile | shop)
    make_rules(travel_rate_per_km=Decimal("0.60"), travel_hourly_rate=Decimal(30))
    install_starter(at=AT, by=by, units=units)
    Material.objects.filter(code="front-fabric").update(
        fire_class="A", fire_papers="HW-2025-114, in the green folder"
    )
    client = make_client(
        name="Mara Quill", company="Sample Café", email="mara@example.org"
    )
    site = make_site(
        client=client,
        address="4 Weir Lane\nSample Town ST1 4QZ",
        setting="public",
        tenure="tenant",
        year_built=1931,
        distance_km=Decimal(18),
        travel_minutes=25,
    )
    room = make_room(site=site, name="Café", use="cafe")
    make_survey(room=room, by=by, construction="board_wood")
    _plan(room, panels, units)
    quote = make_quote(by=by, client=client, rooms=[room], scope=CAFE_SCOPE)
    make_line(quote=quote, by=by, text="Take down the old boards and dispose of them")
    return quote


def _plan(room: Room, panels: Iterable[CafePanels], units: UnitSystem) -> None:
    specs = {spec.kind: spec for spec in BuildSpec.objects.all()}
    fabrics = {fabric.code: fabric for fabric in Material.objects.all()}
    for kind, count, width, height, fabric in panels:
        for _ in range(count):
            PlannedPanel.objects.create(
                room=room,
                spec=specs[kind],
                fabric=fabrics[fabric] if fabric else None,
                **_size(width, height, units),
            )


def _size(width: int, height: int, units: UnitSystem) -> dict[str, Any]:
    """Return a size as columns; in feet and inches the nearest usual one."""
    if units is UnitSystem.METRIC:
        size, texts = NominalSize(mm(width), mm(height)), (str(width), str(height))
    else:
        inches = [Decimal(round(side / 25 * 8)) / 8 for side in (width, height)]
        size = NominalSize(*(from_inches(side) for side in inches))
        texts = (f'{inches[0]}"', f'{inches[1]}"')
    return {
        "width_ticks": size.width_ticks,
        "width_text": texts[0],
        "height_ticks": size.height_ticks,
        "height_text": texts[1],
    }


@contextmanager
def same_ids(seed: int = 1) -> Iterator[None]:
    """Give the same ids each time, so that a document can be compared with a kept one."""
    random = Random(seed)
    with mock.patch("os.urandom", random.randbytes):
        yield
