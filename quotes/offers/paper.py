"""What a quote's paper says, read from a snapshot alone: nothing of cost or margin."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from quotes.specs.engine.model import Hanging
from quotes.specs.frozen import takeoff_from_json
from shared import length
from shared.conventions import current
from shop.catalogue.models import FireClass

Snapshot = Mapping[str, Any]

DRAFT = " draft"
"""Stands for the letter on a paper that is only looked at."""

LINES_TO_A_PAGE = 22
"""Rows of the price that a page of A4 or Letter has room for, with some to spare."""

COLOUR_CODE = re.compile(r"#[0-9a-fA-F]{3,8}\Z")
"""A colour for screens, which says nothing on paper."""


FIRE_WORDS = {str(each): str(each.label) for each in FireClass if each}


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
    finished: str
    fills_opening: bool
    depth: str
    mass_kg: float
    fabric: str
    colour: str
    fire: str
    notes: tuple[str, ...]
    thumb: SafeString


@dataclass(frozen=True, slots=True)
class PriceLine:
    """One line of the price."""

    text: str
    codes: str
    quantity: Decimal
    unit_price: Decimal
    net: Decimal
    tax_percent: Decimal


@dataclass(frozen=True, slots=True)
class PaperRoom:
    """One room on the paper: its panels and its lines of the price."""

    name: str
    address: str
    asks_for_papers: bool
    rows: tuple[ScheduleRow, ...]
    lines: tuple[PriceLine, ...]

    @property
    def together(self) -> Decimal:
        """What its lines come to."""
        return sum((line.net for line in self.lines), Decimal(0))


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
    discount_percent: Decimal
    discount_spares_travel: bool
    net: Decimal
    taxes: tuple[TaxLine, ...]
    gross: Decimal
    deposit: Decimal | None
    deposit_percent: Decimal
    balance: Decimal


@dataclass(frozen=True, slots=True)
class QuotePaper:
    """Everything the paper says."""

    number: str
    letter: str
    sent_on: dt.date
    valid_until: dt.date
    to: tuple[str, ...]
    scope: str
    terms: str
    how_to_pay: str
    tax_number: str
    tax_name: str
    rooms: tuple[PaperRoom, ...]
    other_lines: tuple[PriceLine, ...]
    sums: Sums
    cautions: tuple[Caution, ...]

    @property
    def reference(self) -> str:
        """Number and letter."""
        return f"{self.number}{self.letter}"

    @property
    def is_draft(self) -> bool:
        """Whether it is only looked at, and no offer yet."""
        return self.letter == DRAFT

    @property
    def panel_count(self) -> int:
        """How many panels it is about."""
        return sum(row.count for room in self.rooms for row in room.rows)

    @property
    def priced_rooms(self) -> tuple[PaperRoom, ...]:
        """Rooms that have lines."""
        return tuple(room for room in self.rooms if room.lines)

    @property
    def price_fits_a_page(self) -> bool:
        """Whether the price is short enough to be kept whole, its heading with it."""
        lines = len(self.other_lines) + sum(len(room.lines) for room in self.rooms)
        heads_and_sums = 3 * len(self.priced_rooms) + len(self.sums.taxes) + 8
        return lines + heads_and_sums <= LINES_TO_A_PAGE

    @property
    def shows_rates(self) -> bool:
        """Whether lines bear different rates, so that each has to name its own."""
        lines = (*self.other_lines, *(x for room in self.rooms for x in room.lines))
        return len({line.tax_percent for line in lines}) > 1


def paper_of(snapshot: Snapshot) -> QuotePaper:
    """Lay a snapshot out as the paper shows it, in the conventions in force."""
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
        tax_name=shop["tax_name"],
        rooms=tuple(_rooms(snapshot)),
        other_lines=_lines(snapshot, room=""),
        sums=_sums(snapshot),
        cautions=tuple(Caution(**caution) for caution in snapshot["cautions"]),
    )


def _address(client: Mapping[str, str]) -> tuple[str, ...]:
    lines = (client["company"], client["name"], *client["address"].splitlines())
    return tuple(line for line in lines if line.strip())


def _rooms(snapshot: Snapshot) -> Iterator[PaperRoom]:
    numbers = _numbers(snapshot)
    for room in snapshot["rooms"]:
        groups = (
            (key, group)
            for key, group in snapshot["groups"].items()
            if group["room"] == room["id"]
        )
        # A database may keep the keys of JSON in an order of its own.
        in_order = sorted(groups, key=lambda pair: numbers[pair[0]])
        site = room["site"]
        yield PaperRoom(
            name=room["name"],
            address=site["address"],
            asks_for_papers=site["tenure"] == "tenant"
            or site["setting"] in {"work", "public"},
            rows=tuple(_row(snapshot, key, group) for key, group in in_order),
            lines=_lines(snapshot, room=room["id"]),
        )


def _numbers(snapshot: Snapshot) -> dict[str, list[int]]:
    """Return the numbers of each group's panels, in order."""
    numbers: dict[str, list[int]] = {}
    for panel in snapshot["panels"]:
        numbers.setdefault(panel["group"], []).append(int(panel["number"]))
    return {key: sorted(found) for key, found in numbers.items()}


def _row(snapshot: Snapshot, key: str, group: Mapping[str, Any]) -> ScheduleRow:
    takeoff = takeoff_from_json(group["takeoff"])
    fabric = snapshot["materials"].get(group["fabric"] or "", {})
    papers = (FIRE_WORDS.get(fabric.get("fire_class")), fabric.get("fire_papers"))
    mine = (panel for panel in snapshot["panels"] if panel["group"] == key)
    colour = fabric.get("colour", "")
    return ScheduleRow(
        name=snapshot["builds"][group["build"]]["name"],
        count=int(group["count"]),
        codes=_run(_numbers(snapshot)[key]),
        size=_size(int(group["width_ticks"]), int(group["height_ticks"])),
        finished=_size(takeoff.finished.width_ticks, takeoff.finished.height_ticks),
        fills_opening=takeoff.hang.kind is Hanging.EDGE,
        depth=_size(takeoff.finished.depth_ticks),
        mass_kg=takeoff.mass.panel_kg,
        fabric=fabric.get("name", ""),
        colour="" if COLOUR_CODE.match(colour) else colour,
        fire=", ".join(text for text in papers if text),
        notes=tuple(dict.fromkeys(p["note"] for p in mine if p["note"])),
        thumb=mark_safe(group["drawings"]["thumb"]),  # noqa: S308 frozen from ours
    )


def _run(numbers: list[int]) -> str:
    """Write 3, 4, 5 as 3–5: groups are numbered without gaps."""
    first, last = numbers[0], numbers[-1]
    return str(first) if first == last else f"{first}–{last}"


def _size(*sides: int) -> str:
    conventions = current()
    return length.show_size(
        *sides, units=conventions.unit_system, fraction=conventions.fraction
    )


def _lines(snapshot: Snapshot, *, room: str) -> tuple[PriceLine, ...]:
    numbers = _numbers(snapshot)
    return tuple(
        PriceLine(
            text=line["text"],
            codes=_run(numbers[line["key"]]) if line["key"] in numbers else "",
            quantity=Decimal(line["quantity"]),
            unit_price=Decimal(line["unit_price"]),
            net=Decimal(line["net"]),
            tax_percent=Decimal(line["tax_percent"]),
        )
        for line in snapshot["price"]["lines"]
        if line["room"] == room
    )


def _sums(snapshot: Snapshot) -> Sums:
    price, quote = snapshot["price"], snapshot["quote"]
    return Sums(
        tax_inclusive=price["tax_inclusive"],
        subtotal=Decimal(price["subtotal"]),
        discount=Decimal(price["discount"]) if price["discount"] else None,
        discount_percent=Decimal(quote["discount_percent"]),
        discount_spares_travel=any(x["kind"] == "travel" for x in price["lines"]),
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
        deposit_percent=Decimal(quote["deposit_percent"]),
        balance=Decimal(price["balance"]),
    )
