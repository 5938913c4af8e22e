"""The quote as the client gets it: made from the snapshot alone."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from quotes.specs.frozen import takeoff_from_json
from shared import length
from shared.conventions import Conventions, current, using
from shared.length import UnitSystem
from shared.pdf import Letterhead, render_html, render_pdf

TEMPLATE = "quotes/offers/pdf/quote.html"


@dataclass(frozen=True, slots=True)
class Caution:
    """One thing that the client is told."""

    key: str
    title: str
    text: str


@dataclass(frozen=True, slots=True)
class ScheduleRow:
    """Like panels of one room, with a small drawing."""

    name: str
    count: int
    codes: str
    size: str
    depth: str
    mass_kg: float
    fabric: str
    colour: str
    fire: str
    thumb: SafeString


@dataclass(frozen=True, slots=True)
class PriceLine:
    """One line of the price."""

    text: str
    quantity: Decimal
    unit_price: Decimal
    net: Decimal
    tax_percent: Decimal


@dataclass(frozen=True, slots=True)
class PaperRoom:
    """One room on the paper: its panels and its lines of the price."""

    name: str
    address: str
    rows: tuple[ScheduleRow, ...]
    lines: tuple[PriceLine, ...]


@dataclass(frozen=True, slots=True)
class TaxLine:
    """The tax of one rate."""

    label: str
    percent: Decimal
    base: Decimal
    tax: Decimal


@dataclass(frozen=True, slots=True)
class Sums:
    """What it comes to."""

    tax_inclusive: bool
    subtotal: Decimal
    discount: Decimal | None
    net: Decimal
    taxes: tuple[TaxLine, ...]
    gross: Decimal
    deposit: Decimal | None
    balance: Decimal


@dataclass(frozen=True, slots=True)
class QuotePaper:
    """Everything the paper says; nothing of cost or margin."""

    number: str
    letter: str
    sent_on: dt.date
    valid_until: dt.date
    to: tuple[str, ...]
    scope: str
    terms: str
    how_to_pay: str
    tax_number: str
    rooms: tuple[PaperRoom, ...]
    other_lines: tuple[PriceLine, ...]
    sums: Sums
    cautions: tuple[Caution, ...]
    deposit_percent: Decimal

    @property
    def reference(self) -> str:
        """Number and letter."""
        return f"{self.number}{self.letter}"

    @property
    def panel_count(self) -> int:
        """How many panels it is about."""
        return sum(row.count for room in self.rooms for row in room.rows)


def quote_pdf(snapshot: Mapping[str, Any]) -> bytes:
    """Print a snapshot in its own conventions; slow, so never inside a transaction."""
    with using(conventions_of(snapshot)):
        return render_pdf(TEMPLATE, _context(snapshot))


def quote_html(snapshot: Mapping[str, Any]) -> str:
    """Give the HTML that the PDF is printed from, for tests and measurements."""
    with using(conventions_of(snapshot)):
        return render_html(TEMPLATE, _context(snapshot))


def _context(snapshot: Mapping[str, Any]) -> dict[str, Any]:
    language = snapshot["shop"]["locale"].replace("_", "-")
    return {
        "quote": paper_of(snapshot),
        "letterhead": letterhead_of(snapshot["shop"]),
        "language": language if language.startswith("en") else "en-GB",
    }


def conventions_of(snapshot: Mapping[str, Any]) -> Conventions:
    """Return the conventions that the snapshot was written in."""
    shop = snapshot["shop"]
    return Conventions(
        unit_system=UnitSystem(shop["unit_system"]),
        fraction=int(shop["fraction"]),
        currency=shop["currency"],
        locale=shop["locale"],
        time_zone=shop["time_zone"],
        paper=shop["paper"],
    )


def letterhead_of(shop: Mapping[str, Any]) -> Letterhead:
    """Head the client's papers: address and how to reach the shop."""
    contact = " · ".join(shop[name] for name in ("phone", "email", "web") if shop[name])
    lines = (*shop["address"].splitlines(), contact)
    return Letterhead(
        shop["name"],
        shop["strapline"],
        tuple(line for line in lines if line.strip()),
        invented=shop["invented"],
    )


def paper_of(snapshot: Mapping[str, Any]) -> QuotePaper:
    """Lay a snapshot out as the paper shows it."""
    quote, shop = snapshot["quote"], snapshot["shop"]
    return QuotePaper(
        number=quote["number"],
        letter=quote["letter"],
        sent_on=dt.date.fromisoformat(quote["sent_on"]),
        valid_until=dt.date.fromisoformat(quote["valid_until"]),
        to=_address(snapshot["client"]),
        scope=quote["scope"],
        terms=quote["terms"],
        how_to_pay=shop["how_to_pay"],
        tax_number=shop["tax_number"],
        rooms=tuple(_rooms(snapshot)),
        other_lines=_lines(snapshot, room=""),
        sums=_sums(snapshot["price"]),
        cautions=tuple(Caution(**caution) for caution in snapshot["cautions"]),
        deposit_percent=Decimal(quote["deposit_percent"]),
    )


def _address(client: Mapping[str, str]) -> tuple[str, ...]:
    lines = (client["company"], client["name"], *client["address"].splitlines())
    return tuple(line for line in lines if line.strip())


def _rooms(snapshot: Mapping[str, Any]) -> Iterator[PaperRoom]:
    numbers = _numbers(snapshot)
    for room in snapshot["rooms"]:
        groups = (
            (key, group)
            for key, group in snapshot["groups"].items()
            if group["room"] == room["id"]
        )
        yield PaperRoom(
            name=room["name"],
            address=room["site"]["address"],
            rows=tuple(
                _row(snapshot, group, numbers=numbers[key]) for key, group in groups
            ),
            lines=_lines(snapshot, room=room["id"]),
        )


def _numbers(snapshot: Mapping[str, Any]) -> dict[str, list[int]]:
    numbers: dict[str, list[int]] = {}
    for panel in snapshot["panels"]:
        numbers.setdefault(panel["group"], []).append(int(panel["number"]))
    return numbers


def _row(
    snapshot: Mapping[str, Any], group: Mapping[str, Any], *, numbers: list[int]
) -> ScheduleRow:
    takeoff = takeoff_from_json(group["takeoff"])
    fabric = snapshot["materials"].get(group["fabric"] or "", {})
    papers = (fabric.get("fire_class", ""), fabric.get("fire_papers", ""))
    return ScheduleRow(
        name=snapshot["builds"][group["build"]]["name"],
        count=int(group["count"]),
        codes=_run(numbers),
        size=_size(takeoff.finished.width_ticks, takeoff.finished.height_ticks),
        depth=_size(takeoff.finished.depth_ticks),
        mass_kg=takeoff.mass.panel_kg,
        fabric=fabric.get("name", ""),
        colour=fabric.get("colour", ""),
        fire=", ".join(text for text in papers if text),
        thumb=mark_safe(group["drawings"]["thumb"]),  # noqa: S308 frozen from ours
    )


def _run(numbers: list[int]) -> str:
    """Write 3, 4, 5 as 3–5: groups are numbered without gaps."""
    first, last = min(numbers), max(numbers)
    return str(first) if first == last else f"{first}–{last}"


def _size(*sides: int) -> str:
    c = current()
    words = (length.show(s, units=c.unit_system, fraction=c.fraction) for s in sides)
    return " × ".join(words)


def _lines(snapshot: Mapping[str, Any], *, room: str) -> tuple[PriceLine, ...]:
    return tuple(
        PriceLine(
            text=line["text"],
            quantity=Decimal(line["quantity"]),
            unit_price=Decimal(line["unit_price"]),
            net=Decimal(line["net"]),
            tax_percent=Decimal(line["tax_percent"]),
        )
        for line in snapshot["price"]["lines"]
        if line["room"] == room
    )


def _sums(price: Mapping[str, Any]) -> Sums:
    return Sums(
        tax_inclusive=price["tax_inclusive"],
        subtotal=Decimal(price["subtotal"]),
        discount=Decimal(price["discount"]) if price["discount"] else None,
        net=Decimal(price["net"]),
        taxes=tuple(
            TaxLine(
                tax["label"],
                Decimal(tax["percent"]),
                Decimal(tax["base"]),
                Decimal(tax["tax"]),
            )
            for tax in price["taxes"]
        ),
        gross=Decimal(price["gross"]),
        deposit=Decimal(price["deposit"]) if price["deposit"] else None,
        balance=Decimal(price["balance"]),
    )
