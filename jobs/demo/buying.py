"""Orders of the demo: one all used, one partly here, one late, one still a draft."""

from __future__ import annotations

import datetime as dt
import uuid
from decimal import Decimal

from jobs.board.models import Job
from jobs.buying.actions.deliveries import Came, receive
from jobs.buying.actions.drafts import add_line, start_order, write_orders
from jobs.buying.actions.needs import refresh_needs
from jobs.buying.actions.placing import Cover, place_order
from jobs.buying.actions.uses import Out, take_out
from jobs.buying.models import Order
from jobs.buying.reports.jobs import job_material
from jobs.buying.reports.tobuy import BuyLine, to_buy
from jobs.demo.people import Cast
from shared.conventions import today
from shop.catalogue.models import Material, Supplier
from shop.people.models import Person

DAY = dt.timedelta(days=1)
HARDWARE = "Hasp & Hinge"
CLOTH = "Weftwick Cloth"
TIMBER = "Thimbleford Timber Yard"
STILL_TO_ORDER = 2
"""Lines of hardware that nobody has ordered yet."""


def order_material(cast: Cast, at: dt.datetime) -> None:
    """Buy for the open jobs, one after the other as they were opened."""
    refresh_needs(at=at - 20 * DAY)
    first, *_ = Job.objects.open()
    _all_used(first, cast, at)
    _late(cast, at)
    _partly_here(cast, at)
    _draft(cast, at)


def _all_used(job: Job, cast: Cast, at: dt.datetime) -> None:
    """Buy what was short of the first job, and take everything out: it is built."""
    for line in _lines(at):
        if job.code in line.jobs:
            (order,) = write_orders({line.key}, by=cast.office, at=at - 40 * DAY)
            _place(order, comes=at - 30 * DAY, by=cast.office, at=at - 40 * DAY)
            came = [Came(e.pk, e.quantity, lot=e.lot) for e in order.lines.all()]
            receive(order, came, key=uuid.uuid4(), by=cast.office, at=at - 31 * DAY)
    outs = [
        Out(row.material, row.left, lot=row.share.demand.lot if row.share else "")
        for row in job_material(job, today=today(at)).rows
        if row.left
    ]
    take_out(job, outs, by=cast.maker, at=at - 15 * DAY)


def _late(cast: Cast, at: dt.datetime) -> None:
    """Order cloth that should have come two days ago."""
    keys = {line.key for line in _lines(at, CLOTH)}
    for order in write_orders(keys, by=cast.owner, at=at - 14 * DAY):
        _place(order, comes=at - 2 * DAY, by=cast.owner, at=at - 14 * DAY)


def _partly_here(cast: Cast, at: dt.datetime) -> None:
    """Order hardware, of which all but one line came, one of them dearer than it was."""
    keys = {line.key for line in _lines(at, HARDWARE)[:-STILL_TO_ORDER]}
    for order in write_orders(keys, by=cast.office, at=at - 9 * DAY):
        _place(order, comes=at + 2 * DAY, by=cast.office, at=at - 9 * DAY)
        dearer, *others = list(order.lines.all())[:-1]
        price = (dearer.pack_price or Decimal(0)) + Decimal("1.20")
        came = [Came(dearer.pk, dearer.quantity, pack_price=price)]
        came += [Came(line.pk, line.quantity) for line in others]
        receive(
            order,
            came,
            key=uuid.uuid4(),
            note_number="HH-2207",
            by=cast.office,
            at=at - 3 * DAY,
        )


def _draft(cast: Cast, at: dt.datetime) -> None:
    """Begin an order for the stores themselves."""
    supplier = Supplier.objects.get(name=TIMBER)
    order = start_order(supplier, by=cast.office, at=at - DAY)
    for code, packs in (("batten", 24), ("wool", 2)):
        material = Material.objects.get(code=code)
        add_line(order, material, Decimal(packs), by=cast.office, at=at - DAY)


def _lines(at: dt.datetime, supplier: str = "") -> list[BuyLine]:
    """Return what is to buy, of one supplier or of all."""
    groups = to_buy(today=today(at)).suppliers
    return [
        line
        for group in groups
        if not supplier or str(group.supplier) == supplier
        for line in group.lines
    ]


def _place(order: Order, *, comes: dt.datetime, by: Person, at: dt.datetime) -> None:
    cover = Cover(
        to=order.supplier.email,
        subject=f"Order {order.number}",
        body=f"Here is our order {order.number}.\n\n{by}",
    )
    place_order(order, cover, expected_on=today(comes), by=by, at=at)
