"""What a sent quote keeps, schema 1: enough to build and hang the job from it alone."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from typing import Any

from quotes.offers.draft import Draft
from quotes.pricing.engine import Figure, PricedQuote
from quotes.pricing.reports import steps_of
from quotes.specs.documents import frozen_builds, frozen_group, frozen_materials
from quotes.specs.engine import ENGINE_VERSION
from quotes.specs.reports.figures import Step
from shop.clients.models import ClientDetails, Site
from shop.clients.reports import getting_in
from shop.people.models import ShopProfile
from shop.surveys.models import Room, Survey

SCHEMA = 1

SHOP_FIELDS = (
    "name",
    "strapline",
    "address",
    "phone",
    "email",
    "web",
    "tax_number",
    "how_to_pay",
    "unit_system",
    "fraction",
    "currency",
    "locale",
    "time_zone",
    "paper",
    "invented",
)


def snapshot_of(
    draft: Draft,
    priced: PricedQuote,
    *,
    letter: str,
    sent_on: dt.date,
    valid_until: dt.date,
) -> dict[str, Any]:
    """Write a draft down as JSON that nothing later changes."""
    rows = draft.rows
    surveys = {survey.room_id: survey for survey in rows.surveys}
    return {
        "schema": SCHEMA,
        "engines": {"takeoff": ENGINE_VERSION, "pricing": priced.engine_version},
        "shop": _shop(rows.profile, tax_name=rows.rules.tax_name),
        "client": _client(rows.details),
        "quote": {
            "number": rows.quote.number,
            "letter": letter,
            "scope": rows.quote.scope,
            "terms": rows.profile.terms,
            "sent_on": sent_on.isoformat(),
            "valid_until": valid_until.isoformat(),
            "discount_percent": str(rows.quote.discount_percent),
            "deposit_percent": str(rows.rules.deposit_percent),
        },
        "rooms": [_room(room, surveys.get(room.pk)) for room in rows.rooms],
        "builds": frozen_builds(draft.groups),
        "materials": frozen_materials(draft.groups),
        "groups": {group.key: frozen_group(group) for group in draft.groups},
        "panels": _panels(draft),
        "price": _price(priced, draft),
        "costs": _costs(priced),
        "cautions": [
            {"key": c.key, "title": c.title, "text": c.text} for c in draft.cautions
        ],
    }


def _shop(profile: ShopProfile, *, tax_name: str) -> dict[str, Any]:
    return {name: getattr(profile, name) for name in SHOP_FIELDS} | {
        "tax_name": tax_name
    }


def _client(details: ClientDetails) -> dict[str, Any]:
    names = ("name", "company", "email", "phone", "address")
    return {"id": str(details.client_id)} | {n: getattr(details, n) for n in names}


def _room(room: Room, survey: Survey | None) -> dict[str, Any]:
    return {
        "id": str(room.pk),
        "name": room.name,
        "use": room.use,
        "storey": room.storey,
        "sleeping_or_basement": room.sleeping_or_basement,
        "site": _site(room.site),
        "walls": [
            {
                "name": wall.name,
                "construction": wall.construction,
                "heated": wall.heated,
            }
            for wall in (survey.walls.all() if survey else ())
        ],
        "ceiling": {
            "construction": survey.construction if survey else "",
            "heated": survey.heated if survey else False,
        },
        "zones": sorted({zone.kind for zone in survey.zones.all()} if survey else ()),
    }


def _site(site: Site) -> dict[str, Any]:
    names = ("address", "year_built", "tenure", "setting")
    kept = {name: getattr(site, name) for name in names}
    return {"id": str(site.pk), "access_notes": getting_in(site)} | kept


def _panels(draft: Draft) -> list[dict[str, Any]]:
    """Give each panel its number, room by room and group by group."""
    planned = ((group, panel) for group in draft.groups for panel in group.panels)
    return [
        {
            "planned_panel": str(panel.pk),
            "number": number,
            "group": group.key,
            "note": panel.note,
        }
        for number, (group, panel) in enumerate(planned, start=1)
    ]


def _price(priced: PricedQuote, draft: Draft) -> dict[str, Any]:
    """Keep the client's figures: nothing of cost or margin is among them."""
    client, totals = priced.client, priced.client.totals
    rooms = {g.key: str(g.first.room_id) for g in draft.groups}
    return {
        "tax_inclusive": client.tax_inclusive,
        "lines": [
            {
                "key": line.key,
                "kind": str(line.kind),
                "room": rooms.get(line.key, ""),
                "text": line.label,
                "quantity": str(line.quantity),
                "unit_price": _amount(line.unit_price),
                "net": _amount(line.amount),
                "tax_label": line.tax_label,
                "tax_percent": str(line.tax_percent),
            }
            for line in client.lines
        ],
        "subtotal": _amount(totals.subtotal),
        "discount": _amount(totals.discount) if totals.discount else "",
        "net": _amount(totals.net),
        "taxes": [
            {
                "label": tax.label,
                "percent": str(tax.percent),
                "base": _amount(tax.base),
                "tax": _amount(tax.amount),
            }
            for tax in totals.taxes
        ],
        "tax": _amount(totals.tax),
        "gross": _amount(totals.gross),
        "deposit": _amount(totals.deposit) if totals.deposit else "",
        "balance": _amount(totals.balance),
    }


def _amount(figure: Figure) -> str:
    return str(figure.value)


def _costs(priced: PricedQuote) -> dict[str, Any]:
    """Keep the shop's own figures, for learning from the job afterwards."""
    found = priced.breakdown
    return {
        "materials": _amount(found.materials),
        "labour": _amount(found.labour),
        "minutes": _amount(found.minutes),
        "minutes_by_stage": _by_stage(found.by_stage),
        "travel": _amount(found.travel),
        "overhead": _amount(found.overhead),
        "cost": _amount(found.cost),
        "price": _amount(found.price),
        "margin": _amount(found.margin),
        "workings": [_plain(step) for step in _workings(priced)],
    }


def _plain(step: Step) -> dict[str, Any]:
    """Turn a step into what JSON gives back: lists, not tuples."""
    words = {name: getattr(step, name) for name in ("label", "amount", "sums", "note")}
    return words | {"steps": [_plain(below) for below in step.steps]}


def _workings(priced: PricedQuote) -> list[Step]:
    """Keep how each figure came, in words, each opened once: prices, then costs."""
    totals, found = priced.totals, priced.breakdown
    figures = [line.amount for line in priced.lines]
    figures += [totals.net, *(tax.amount for tax in totals.taxes), totals.gross]
    figures += [totals.deposit] if totals.deposit else []
    return steps_of([*figures, totals.balance, found.cost, found.margin])


def _by_stage(stages: Iterable[Any]) -> dict[str, str]:
    return {str(line.stage): _amount(line.minutes) for line in stages}
