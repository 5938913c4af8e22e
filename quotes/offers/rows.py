"""Every row that a draft's price and paper come from, and one hash over all of them."""

from __future__ import annotations

import hashlib
import itertools
import json
from collections.abc import Iterator
from dataclasses import dataclass, fields
from typing import Any

from django.db.models import Model

from quotes.offers.models import FreeLine, Quote
from quotes.pricing.models import PriceRules, TaxRate
from quotes.specs.adapter import MATERIAL_COLUMNS
from quotes.specs.models import BuildSpec, PlannedPanel
from shop.clients.models import ClientDetails, Site
from shop.people.models import ShopProfile
from shop.people.reports import profile
from shop.surveys.models import Room, Survey

NOT_CONTENT = frozenset(
    {
        "created_at",
        "archived_at",
        "committed_at",
        "state",
        "version",
        "valid_until",
        "search_text",
    }
)
"""Columns that say how far a thing is, not what the client is offered."""


@dataclass(frozen=True, slots=True)
class DraftRows:
    """What a draft is made of, as it stands in the database."""

    quote: Quote
    profile: ShopProfile
    details: ClientDetails
    rules: PriceRules
    rates: tuple[TaxRate, ...]
    rooms: tuple[Room, ...]
    surveys: tuple[Survey, ...]
    free_lines: tuple[FreeLine, ...]
    panels: tuple[PlannedPanel, ...]
    specs: tuple[BuildSpec, ...]

    @property
    def sites(self) -> tuple[Site, ...]:
        """Where the rooms are, each once."""
        return tuple({room.site_id: room.site for room in self.rooms}.values())


def read_rows(quote: Quote) -> DraftRows:
    """Read a draft. The number of queries does not grow with its size.

    The quote is read again too, since a row in memory may not print as the stored one.
    """
    quote = Quote.objects.with_client().get(pk=quote.pk)
    rooms = tuple(quote.rooms_in_order())
    panels = tuple(PlannedPanel.objects.uncommitted().in_rooms(rooms).with_fabric())
    specs = BuildSpec.objects.with_parts().by_ids({p.spec_id for p in panels})
    return DraftRows(
        quote=quote,
        profile=profile(),
        details=quote.client.details,
        rules=PriceRules.objects.first() or PriceRules(),
        rates=tuple(TaxRate.objects.all()),
        rooms=rooms,
        surveys=tuple(Survey.objects.latest_of(rooms).with_parts()),
        free_lines=tuple(quote.free_lines.live()),
        panels=panels,
        specs=tuple(specs),
    )


def fingerprint(rows: DraftRows) -> str:
    """Hash every column of every row that the client's paper depends on."""
    columns = [_columns(row) for row in _all(rows)]
    text = json.dumps(columns, sort_keys=True, default=str)
    return hashlib.sha256(text.encode()).hexdigest()


def _columns(row: Model) -> dict[str, Any]:
    names = (field.attname for field in row._meta.concrete_fields)
    return {name: getattr(row, name) for name in names if name not in NOT_CONTENT}


def _all(rows: DraftRows) -> Iterator[Model]:
    for field in fields(rows):
        value = getattr(rows, field.name)
        yield from value if isinstance(value, tuple) else (value,)
    yield from rows.sites
    yield from (panel.fabric for panel in rows.panels if panel.fabric)
    yield from itertools.chain.from_iterable(_survey(s) for s in rows.surveys)
    yield from itertools.chain.from_iterable(_spec(s) for s in rows.specs)


def _survey(survey: Survey) -> Iterator[Model]:
    yield from survey.zones.all()
    for wall in survey.walls.all():
        yield wall
        for opening in wall.openings.all():
            yield opening
            yield from opening.readings.all()


def _spec(spec: BuildSpec) -> Iterator[Model]:
    yield from (row for name in MATERIAL_COLUMNS if (row := getattr(spec, name)))
    for brace in spec.braces.all():
        yield from (row for row in (brace, brace.stock) if row)
    for item in spec.items.all():
        yield from (item, item.material)
    for use in spec.operations.all():
        yield from (use, use.operation)
