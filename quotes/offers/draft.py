"""A draft worked out: rooms, panels, price, what stands in its way, what to say."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from quotes.offers.cautions import cautions_of
from quotes.offers.models import Quote
from quotes.offers.rows import DraftRows, read_rows
from quotes.pricing.adapter import Basis, ExtraLine, request_of
from quotes.pricing.engine import PricedQuote, PricingError, price_quote
from quotes.specs.reports import PanelGroup, group_panels, room_size
from shop.clients.engine import Caution
from shop.surveys.models import Room

MOST = Decimal(1_000_000_000)
"""Of a total, in whole units of any currency: more is a slip of the finger."""


@dataclass(frozen=True, slots=True)
class DraftRoom:
    """One room of a draft, and its panels in groups of like ones."""

    room: Room
    groups: tuple[PanelGroup, ...]

    @property
    def count(self) -> int:
        """How many panels go into the room."""
        return sum(group.count for group in self.groups)


@dataclass(frozen=True, slots=True)
class Draft:
    """A working draft, worked out."""

    rows: DraftRows
    rooms: tuple[DraftRoom, ...]
    priced: PricedQuote | None
    trouble: tuple[str, ...]
    """Why it can't be sent, each a sentence that says what to do."""
    flags: tuple[str, ...]
    """What a person should look at first; it can be sent all the same."""
    cautions: tuple[Caution, ...]

    @property
    def quote(self) -> Quote:
        """The quote it is the draft of."""
        return self.rows.quote

    @property
    def groups(self) -> tuple[PanelGroup, ...]:
        """All groups, in the order of rooms."""
        return tuple(group for room in self.rooms for group in room.groups)

    @property
    def count(self) -> int:
        """How many panels the draft is about."""
        return sum(room.count for room in self.rooms)


def work_out_draft(quote: Quote) -> Draft:
    """Read a draft and work it out. Queries do not grow with its size."""
    return draft_of(read_rows(quote))


def draft_of(rows: DraftRows) -> Draft:
    """Work a draft out: takeoffs, price, cautions."""
    rooms = tuple(_rooms(rows))
    groups = tuple(group for room in rooms for group in room.groups)
    refused = tuple(_refused(groups))
    priced, unpriced = _price(rows, groups) if not refused else (None, "")
    return Draft(
        rows=rows,
        rooms=rooms,
        priced=priced,
        trouble=(*refused, *_missing(rows, rooms), *((unpriced,) if unpriced else ())),
        flags=tuple(_flags(rows, groups)),
        cautions=cautions_of(rows, groups),
    )


def _rooms(rows: DraftRows) -> Iterator[DraftRoom]:
    sizes = {survey.room_id: room_size(survey) for survey in rows.surveys}
    groups = group_panels(rows.panels, room_sizes=sizes)
    for room in rows.rooms:
        mine = tuple(g for g in groups if g.first.room_id == room.pk)
        yield DraftRoom(room=room, groups=mine)


def _refused(groups: Iterable[PanelGroup]) -> Iterator[str]:
    for group in groups:
        for problem in group.worked.refused:
            yield f"{group.worked.spec.name}, {group.size}: {problem.message}"


def _flags(rows: DraftRows, groups: Iterable[PanelGroup]) -> Iterator[str]:
    if not rows.details.email:
        yield "The client has no e-mail address yet: you will be asked for one."
    for group in groups:
        said = (*(problem.message for problem in group.worked.flags), *group.too_big)
        for message in said:
            yield f"{group.worked.spec.name}, {group.size}: {message}"


def _missing(rows: DraftRows, rooms: Iterable[DraftRoom]) -> Iterator[str]:
    if not rows.panels and not rows.free_lines:
        yield "There is nothing to offer yet: plan panels for a room, or add a line."
    yield from (
        f"{r.room.name} has no panels: plan some, or take it out."
        for r in rooms
        if not r.groups
    )


def _price(
    rows: DraftRows, groups: tuple[PanelGroup, ...]
) -> tuple[PricedQuote | None, str]:
    if not groups and not rows.free_lines:
        return None, ""
    basis = Basis(rules=rows.rules, rates=rows.rates, currency=rows.profile.currency)
    extras = (
        ExtraLine(
            key=str(line.pk),
            text=line.text,
            quantity=line.quantity,
            unit_price=line.unit_price,
            kind=line.kind,
        )
        for line in rows.free_lines
    )
    try:
        request = request_of(
            groups,
            basis,
            sites=rows.sites,
            extras=tuple(extras),
            discount_percent=rows.quote.discount_percent,
        )
        priced = price_quote(request)
    except PricingError as error:
        return None, error.message
    if priced.totals.gross.value >= MOST:
        return None, "The total is too large to be right: look at the lines again."
    return priced, ""
