"""Quotes of the demo, and how far the work on them has come."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Sequence
from decimal import Decimal

from jobs.board.actions import Typed, mark_panels, measure_panel, move_panels
from jobs.board.models import Job, Mark, Panel, Stage
from jobs.demo import days
from jobs.demo.people import Cast
from jobs.demo.rooms import typed
from quotes.offers.actions import (
    Cover,
    Terms,
    accept_quote,
    change_terms,
    put_line,
    send_quote,
    start_quote,
)
from quotes.offers.models import FreeLine, Quote
from quotes.pricing.models import LineKind
from shop.people.models import Person
from shop.surveys.models import Room

DAY = dt.timedelta(days=1)


def draft(
    room: Room,
    *,
    by: Person,
    at: dt.datetime,
    scope: str = "",
    discount_percent: int = 0,
) -> Quote:
    """Begin a quote for a room and say what will be done."""
    quote = start_quote(room.site.client, rooms=[room], by=by, at=at)
    terms = Terms(scope, Decimal(discount_percent), quote.valid_days)
    return change_terms(quote, terms, by=by, at=at)


def send(quote: Quote, *, by: Person, at: dt.datetime) -> None:
    """Send a quote with a short letter."""
    quote = Quote.objects.with_client().get(pk=quote.pk)
    details = quote.client.details
    cover = Cover(
        to=details.email,
        subject=f"Quote {quote.number}",
        body=f"Dear {details.name},\n\nhere is the quote that we spoke about.\n\n{by}",
    )
    send_quote(quote, cover, by=by, at=at)


def accept(quote: Quote, *, note: str, by: Person, at: dt.datetime) -> Job:
    """Write down the client's yes and return the job that it opened."""
    revision = accept_quote(quote, note=note, by=by, at=at)
    job: Job = Job.objects.get(revision=revision)
    return job


def cafe_job(room: Room, cast: Cast, at: dt.datetime) -> Job:
    """Quote, yes, and panels at every stage of the bench."""
    sent = at - 32 * DAY
    quote = draft(
        room,
        scope="Fourteen panels on the long walls, four under the ceiling over the tables,"
        " one in the side window, two beside the bar.",
        discount_percent=3,
        by=cast.office,
        at=sent,
    )
    line = FreeLine(
        quote=quote,
        kind=LineKind.LABOUR,
        text="Take down the old cork boards and take them away",
        unit_price=Decimal(95),
    )
    put_line(line, by=cast.office, at=sent)
    send(quote, by=cast.office, at=sent)
    job = accept(
        quote, note="By telephone, landlord agrees.", by=cast.office, at=at - 27 * DAY
    )
    _work_at_the_cafe(job, cast, at)
    days.cafe_day(job, room, cast, at)
    return job


def _work_at_the_cafe(job: Job, cast: Cast, at: dt.datetime) -> None:
    wall, hung, reveal, corner = (
        _ids(job, kind) for kind in ("wall", "hung", "reveal", "corner")
    )
    (window,) = Panel.objects.by_ids(reveal)
    measure_panel(
        window,
        width=_as_read("1042"),
        height=_as_read("1387"),
        by=cast.fitter,
        at=at - 20 * DAY,
    )
    _move((*wall[:12], *hung[:2]), Stage.MEASURED, by=cast.maker, at=at - 18 * DAY)
    _move((*wall[:10], *reveal), Stage.BUILT, by=cast.maker, at=at - 9 * DAY)
    _move(wall[:6], Stage.UPHOLSTERED, by=cast.maker, at=at - 3 * DAY)
    _mark(wall[:4], Mark.CHECKED, "yes", by=cast.maker, at=at - 2 * DAY)
    _mark((*wall[10:12], *hung[:2]), Mark.CUT, "yes", by=cast.maker, at=at - 2 * DAY)
    _mark(hung[2:], Mark.WAITING, "rated eyes", by=cast.office, at=at - DAY)
    _mark(corner, Mark.WAITING, "Harbour weave, slate", by=cast.office, at=at - DAY)
    _mark(wall[5:6], Mark.REWORK, "crease at the lower edge", by=cast.maker, at=at)


def music_room_job(room: Room, cast: Cast, at: dt.datetime) -> Job:
    """Six panels, of which four hang."""
    quote = draft(
        room,
        scope="Six panels beside and behind the cello.",
        by=cast.owner,
        at=at - 56 * DAY,
    )
    send(quote, by=cast.owner, at=at - 56 * DAY)
    job = accept(quote, note="By e-mail.", by=cast.owner, at=at - 51 * DAY)
    panels = _ids(job, "wall")
    _move(panels, Stage.UPHOLSTERED, by=cast.maker, at=at - 12 * DAY)
    _mark(panels, Mark.CHECKED, "yes", by=cast.maker, at=at - 11 * DAY)
    days.music_room_days(job, room, cast, at)
    _mark(
        panels[4:], Mark.REWORK, "cleat 2 mm too low", by=cast.fitter, at=at - 6 * DAY
    )
    return job


def _as_read(text: str) -> Typed:
    return Typed(*typed(text))


def _ids(job: Job, kind: str) -> tuple[uuid.UUID, ...]:
    panels = Panel.objects.of_job(job).for_plates()
    return tuple(panel.pk for panel in panels if panel.kind == kind)


def _move(ids: Sequence[uuid.UUID], to: Stage, *, by: Person, at: dt.datetime) -> None:
    seen = [(panel.pk, panel.stage) for panel in Panel.objects.by_ids(ids)]
    move_panels(seen, to=to, by=by, at=at)


def _mark(
    ids: Sequence[uuid.UUID], mark: Mark, now: str, *, by: Person, at: dt.datetime
) -> None:
    mark_panels(ids, mark=mark, now=now, by=by, at=at)
