"""What has to be ordered, of whom, by when, and how each line came about."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from jobs.buying.adapter import Thing, things_of
from jobs.buying.engine import SPARE_DAYS, Buy, PackCount, Share, net
from jobs.buying.models import JobNeed
from jobs.buying.reports.rows import BENCH_DAYS, Gathered, gather
from jobs.buying.reports.words import (
    day_text,
    days_text,
    money_of,
    packs_text,
)
from jobs.gates.models import Gate
from quotes.specs.reports.figures import Step
from shop.catalogue.models import Material, StockLevel, Supplier
from shop.catalogue.reports.stock import quantity_text

ZERO = Decimal(0)


@dataclass(frozen=True, slots=True)
class BuyLine:
    """One thing to order: how much, in which packs, by when, for whom."""

    thing: Thing
    buy: Buy
    today: dt.date
    workings: Step
    past: tuple[str, ...]
    """What somebody went past, with the reason: it is ordered on their word."""

    @property
    def key(self) -> str:
        """What ticking it sends."""
        return f"{self.thing.material.pk}:{self.buy.lot}"

    @property
    def material(self) -> Material:
        """The material that jobs name."""
        return self.thing.material

    @property
    def packs(self) -> tuple[tuple[Material, PackCount], ...]:
        """The packs to order, each with the material it is of."""
        return tuple((self.thing.offered(p.offer.key), p) for p in self.buy.packs)

    @property
    def packs_words(self) -> str:
        """The packs in words."""
        return " and ".join(
            packs_text(material, pack.count, pack.offer.pack_quantity)
            for material, pack in self.packs
        )

    @property
    def short_words(self) -> str:
        """What is short, in the material's count."""
        return quantity_text(self.material, self.buy.short)

    @property
    def cost(self) -> Decimal | None:
        """What it costs without tax; nothing unless all packs have a price."""
        costs = [money_of(p.count, m.pack_price) for m, p in self.packs]
        return None if None in costs else sum((c or ZERO for c in costs), ZERO)

    @property
    def jobs(self) -> tuple[str, ...]:
        """Codes of the jobs it is for, the first needed first."""
        return tuple(dict.fromkeys(share.demand.job for share in self.buy.shares))

    @property
    def is_due(self) -> bool:
        """Whether it has to be ordered today."""
        return self.buy.is_due(self.today)

    @property
    def when(self) -> str:
        """By when it has to be ordered, in words."""
        if self.buy.late_days:
            return f"order today, {days_text(self.buy.late_days)} too late"
        if self.is_due:
            return "order today"
        if self.buy.order_by is None:
            return "no day yet"
        return f"order by {day_text(self.buy.order_by)}"

    @property
    def look(self) -> str:
        """How its pill looks."""
        if self.buy.late_days:
            return "late"
        return "due" if self.is_due else ""


@dataclass(frozen=True, slots=True)
class SupplierLines:
    """What to order of one supplier, the most urgent first."""

    supplier: Supplier | None
    lines: tuple[BuyLine, ...]

    @property
    def due_count(self) -> int:
        """How many lines have to be ordered today."""
        return sum(line.is_due for line in self.lines)

    @property
    def past(self) -> tuple[str, ...]:
        """What somebody went past for some of it, each once."""
        said = (sentence for line in self.lines for sentence in line.past)
        return tuple(dict.fromkeys(said))

    @property
    def cost(self) -> Decimal | None:
        """What all of it costs; nothing where a price is missing."""
        costs = [line.cost for line in self.lines]
        return None if None in costs else sum((c or ZERO for c in costs), ZERO)


@dataclass(frozen=True, slots=True)
class WaitingLine:
    """Something short that must not be ordered yet, and what it waits behind."""

    material: Material
    need: JobNeed
    quantity: str
    needed_on: dt.date | None
    gates: tuple[Gate, ...]


@dataclass(frozen=True, slots=True)
class ToBuy:
    """The page: by supplier, what waits, and what the stores owe an explanation for."""

    suppliers: tuple[SupplierLines, ...]
    waiting: tuple[WaitingLine, ...]
    below: tuple[StockLevel, ...]
    has_needs: bool

    @property
    def lines(self) -> tuple[BuyLine, ...]:
        """All lines to order."""
        return tuple(line for each in self.suppliers for line in each.lines)


def to_buy(*, today: dt.date) -> ToBuy:
    """Net what open jobs need. Eight queries, however much there is."""
    found = gather()
    things = things_of(found.rows, today=today)
    lines: list[BuyLine] = []
    waiting: list[WaitingLine] = []
    for thing in things:
        answer = net(thing.question, today=today)
        lines += (_line(thing, buy, found, today=today) for buy in answer.buys)
        waiting += _waiting(thing, answer.waiting, found)
    return ToBuy(
        suppliers=_by_supplier(lines),
        waiting=tuple(sorted(waiting, key=lambda w: _soon(w.needed_on))),
        below=tuple(level for level in found.rows.levels if level.quantity < 0),
        has_needs=bool(found.rows.needs),
    )


def _soon(day: dt.date | None) -> dt.date:
    return day or dt.date.max


def _by_supplier(lines: Iterable[BuyLine]) -> tuple[SupplierLines, ...]:
    """Group by supplier: whoever has to be written to first stands first."""
    groups: dict[Supplier | None, list[BuyLine]] = {}
    for line in lines:
        packs = line.packs
        supplier = packs[0][0].supplier if packs else line.material.supplier
        groups.setdefault(supplier, []).append(line)
    ranked = [
        SupplierLines(supplier, tuple(sorted(each, key=_urgency)))
        for supplier, each in groups.items()
    ]
    return tuple(sorted(ranked, key=lambda g: (_urgency(g.lines[0]), str(g.supplier))))


def _urgency(line: BuyLine) -> tuple[dt.date, str]:
    return _soon(line.buy.order_by), line.material.name


def _waiting(
    thing: Thing, shares: Iterable[Share], found: Gathered
) -> Iterator[WaitingLine]:
    needs = {need.job.code: need for need in thing.needs}
    for share in shares:
        need = needs[share.demand.job]
        yield WaitingLine(
            material=need.material,
            need=need,
            quantity=quantity_text(need.material, share.short),
            needed_on=share.demand.needed_on,
            gates=found.shut(need),
        )


def _line(thing: Thing, buy: Buy, found: Gathered, *, today: dt.date) -> BuyLine:
    needs = {need.job.code: need for need in thing.needs}
    own = [needs[share.demand.job] for share in buy.shares]
    past = tuple(
        f"{need.job.code}: {gate.title}, {gate.past_words}"
        for need in own
        for gate in found.gone_past(need)
    )
    return BuyLine(thing, buy, today, _workings(thing, buy, needs), past)


def _workings(thing: Thing, buy: Buy, needs: dict[str, JobNeed]) -> Step:
    """Tell how a line came about: what each job needs, less what there is, in packs."""
    material, shares = thing.material, buy.shares
    wanted = sum((share.demand.quantity for share in shares), ZERO)
    stock = sum((share.from_stock for share in shares), ZERO)
    orders = sum((share.from_orders for share in shares), ZERO)
    over = buy.quantity - buy.short
    steps = [
        Step(
            "Jobs still need",
            quantity_text(material, wanted),
            steps=tuple(_of_job(share, needs[share.demand.job]) for share in shares),
        )
    ]
    if stock:
        steps.append(Step("less what lies there", quantity_text(material, -stock)))
    if orders:
        steps.append(
            Step(
                "less what is on order or in a draft", quantity_text(material, -orders)
            )
        )
    steps += _other_lots(thing, buy)
    steps.append(Step("So short", quantity_text(material, buy.short)))
    steps += _pack_steps(thing, buy)
    if buy.packs and over:
        steps.append(Step("Left over", quantity_text(material, over)))
    return Step("How it came", "", steps=(*steps, _day_step(buy)))


def _other_lots(thing: Thing, buy: Buy) -> Iterator[Step]:
    """Tell what lies there and may not be used, since the client signed for a lot."""
    there = (s for s in thing.question.supplies if s.on is None and s.lot != buy.lot)
    other = sum((supply.quantity for supply in there), ZERO)
    if thing.question.one_lot and buy.lot and other:
        much = quantity_text(thing.material, other)
        note = f"The client signed for dye lot {buy.lot}, and a job is of one lot."
        yield Step("Not used: what lies there of other lots", much, note=note)


def _of_job(share: Share, need: JobNeed) -> Step:
    whole = quantity_text(need.material, need.quantity)
    used = need.quantity - share.demand.quantity
    words = [f"{whole} in all: {need.how}"]
    if used:
        words.append(f"{quantity_text(need.material, used)} used already")
    if share.late_days:
        words.append(f"what is on order comes {days_text(share.late_days)} too late")
    on = share.demand.needed_on
    by = f"at the bench by {day_text(on)}" if on else "no day yet"
    return Step(
        f"{need.job.code} {need.job.client}, {by}",
        quantity_text(need.material, share.demand.quantity),
        sums="; ".join(words),
    )


def _pack_steps(thing: Thing, buy: Buy) -> list[Step]:
    """Tell what is in the packs, and of whom they are."""
    return [_pack_step(thing, pack) for pack in buy.packs]


def _pack_step(thing: Thing, pack: PackCount) -> Step:
    material = thing.offered(pack.offer.key)
    packs = packs_text(material, pack.count, pack.offer.pack_quantity)
    sums = f"{packs}, of {material.supplier}"
    if len(thing.materials) > 1:
        sums += "; of several packs those that cost least and come in time"
    return Step("In packs", quantity_text(material, pack.quantity), sums=sums)


def _day_step(buy: Buy) -> Step:
    """Tell how the last day to order comes."""
    lead = max((pack.offer.lead_days for pack in buy.packs), default=0)
    if buy.needed_on is None or buy.order_by is None:
        note = "Plan the install day, or say by when the client wants it."
        return Step("Order by", "no day yet", note=note)
    sums = (
        f"{day_text(buy.needed_on)} at the bench, {BENCH_DAYS} days before it is hung;"
        f" less {days_text(lead)} until it comes, and {days_text(SPARE_DAYS)} to spare."
        " All days count, weekends too."
    )
    return Step("Order by", day_text(buy.order_by), sums=sums)
