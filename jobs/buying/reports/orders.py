"""An order: its paper, its page, and what a delivery note says of prices."""

from __future__ import annotations

import datetime as dt
import hashlib
import json
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from jobs.buying.models import Delivery, DeliveryLine, Order, OrderLine
from jobs.buying.reports.words import money_of, packs_text
from shared.audit.reports import LogLine, log_of
from shared.outbox.models import Message
from shop.catalogue.models import PriceChange
from shop.catalogue.reports.materials import size_text
from shop.catalogue.reports.stock import quantity_text
from shop.people.models import ShopProfile

ZERO = Decimal(0)


@dataclass(frozen=True, slots=True)
class ShownLine:
    """A line of an order in words; money apart."""

    line: OrderLine

    @property
    def size(self) -> str:
        """What one of it measures, where it has a size."""
        return size_text(self.line.material)

    @property
    def packs(self) -> str:
        """The packs in words."""
        line = self.line
        return packs_text(line.material, line.packs, line.pack_quantity)

    @property
    def net(self) -> Decimal | None:
        """What they cost without tax, rounded at the line."""
        return money_of(self.line.packs, self.line.pack_price)

    @property
    def arrived(self) -> str:
        """How much of it has come."""
        line = self.line
        if not line.arrived:
            return "nothing yet"
        came = quantity_text(line.material, line.arrived)
        if line.arrived > line.quantity:
            over = quantity_text(line.material, line.arrived - line.quantity)
            return f"{came}: {over} more than ordered"
        if line.outstanding:
            return f"{came} of {quantity_text(line.material, line.quantity)}"
        return "all here"

    @property
    def is_here(self) -> bool:
        """Whether all of it has come."""
        return not self.line.outstanding


@dataclass(frozen=True, slots=True)
class OrderPaper:
    """What goes to the supplier."""

    order: Order
    lines: tuple[ShownLine, ...]
    wanted_on: dt.date | None
    deliver_to: str

    @property
    def total(self) -> Decimal | None:
        """The sum of the rounded lines; nothing where one has no price."""
        return total_of(self.lines)


def total_of(lines: Iterable[ShownLine]) -> Decimal | None:
    """Add rounded lines up; nothing where one has no price."""
    nets = [line.net for line in lines]
    return None if None in nets else sum((net or ZERO for net in nets), ZERO)


def paper_of(
    order: Order, *, wanted_on: dt.date | None, shop: ShopProfile
) -> OrderPaper:
    """Lay out an order's paper. One query."""
    lines = tuple(ShownLine(line) for line in order.lines.with_material())
    return OrderPaper(order, lines, wanted_on, shop.address)


def seal_of(paper: OrderPaper) -> str:
    """Hash what the paper says, so that a change meanwhile shows."""
    said = [
        paper.order.number,
        paper.order.note,
        str(paper.order.supplier_id),
        [
            [
                str(shown.line.material_id),
                shown.line.name,
                shown.line.lot,
                f"{shown.line.packs.normalize():f}",
                f"{shown.line.pack_quantity.normalize():f}",
                f"{(shown.line.pack_price or ZERO).normalize():f}",
            ]
            for shown in sorted(paper.lines, key=lambda s: str(s.line.pk))
        ],
    ]
    return hashlib.sha256(json.dumps(said).encode()).hexdigest()


@dataclass(frozen=True, slots=True)
class ShownDelivery:
    """What came at one time, with prices of its note that the stores don't have."""

    delivery: Delivery
    lines: tuple[tuple[DeliveryLine, str], ...]
    proposals: tuple[tuple[DeliveryLine, Decimal], ...]


@dataclass(frozen=True, slots=True)
class OrderPage:
    """An order with what came of it, its mail and its history."""

    order: Order
    lines: tuple[ShownLine, ...]
    deliveries: tuple[ShownDelivery, ...]
    messages: tuple[Message, ...]
    log: tuple[LogLine, ...]

    @property
    def total(self) -> Decimal | None:
        """What it costs without tax."""
        return total_of(self.lines)

    @property
    def has_begun(self) -> bool:
        """Whether something came."""
        return any(shown.line.arrived for shown in self.lines)

    @property
    def can_be_taken_up(self) -> bool:
        """Whether it was ended although something is still outstanding."""
        return any(not shown.is_here for shown in self.lines)


def order_page(order: Order) -> OrderPage:
    """Gather an order's page. About eight queries, however many lines."""
    lines = tuple(ShownLine(line) for line in order.lines.with_material())
    deliveries = tuple(Delivery.objects.of_order(order))
    changed = _last_changes(lines)
    return OrderPage(
        order=order,
        lines=lines,
        deliveries=tuple(_delivery(each, changed) for each in deliveries),
        messages=tuple(Message.objects.about(order)),
        log=tuple(log_of(order)),
    )


def _last_changes(lines: Iterable[ShownLine]) -> dict[object, dt.datetime]:
    """Say when each material's price changed last. One query."""
    ids = [shown.line.material_id for shown in lines]
    rows = PriceChange.objects.filter(material__in=ids).order_by("at")
    return dict(rows.values_list("material_id", "at"))


def _delivery(delivery: Delivery, changed: dict[object, dt.datetime]) -> ShownDelivery:
    lines = tuple(delivery.lines.all())
    proposals = (
        (each, _proposal(each, delivery, changed.get(each.line.material_id)))
        for each in lines
    )
    return ShownDelivery(
        delivery=delivery,
        lines=tuple((e, quantity_text(e.line.material, e.quantity)) for e in lines),
        proposals=tuple((e, price) for e, price in proposals if price is not None),
    )


def _proposal(
    each: DeliveryLine, delivery: Delivery, changed_at: dt.datetime | None
) -> Decimal | None:
    """Return a note's price that is not the stores', while none newer was set."""
    material = each.line.material
    price: Decimal | None = each.pack_price
    if price is None or delivery.undone_at or price == material.pack_price:
        return None
    if changed_at is not None and changed_at > delivery.at:
        return None
    return price


def proposal_of(each: DeliveryLine) -> Decimal | None:
    """Return the price that a delivery line proposes, if it still does. Two queries."""
    changes = PriceChange.objects.of_material(each.line.material)
    last = changes.order_by("-at").values_list("at", flat=True).first()
    return _proposal(each, each.delivery, last)


def cover_words(order: Order, shop: ShopProfile, *, by: str) -> dict[str, str]:
    """Propose the mail that an order goes with."""
    return {
        "to": order.supplier.email,
        "subject": f"Order {order.number} from {shop.name}",
        "body": (
            f"Dear {order.supplier.name},\n\n"
            f"here is our order {order.number}, as a PDF.\n"
            "Please confirm it, and tell us if anything will come later.\n\n"
            f"{by}\n{shop.name}\n"
        ),
    }
