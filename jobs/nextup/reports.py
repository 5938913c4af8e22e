"""What is due, what waits and for what, what is late: for the person who asks."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TypeVar

from django.db.models import Count, Model, QuerySet, Window
from django.urls import reverse

from jobs.board.models import Job, Panel
from jobs.board.stories import to_do_words
from jobs.buying.models import Order
from jobs.buying.reports.tobuy import SupplierLines, to_buy
from jobs.gates.reports import Waiting, waiting_jobs
from jobs.visits.models import SiteDay
from quotes.offers.models import Quote, QuoteState
from shared.access import Right
from shared.dates import show_day
from shared.outbox.models import Message
from shop.clients.models import Client
from shop.people.models import Person

M = TypeVar("M", bound=Model)

SOON = dt.timedelta(days=7)
"""How far ahead a quote's end counts as due."""

AHEAD = dt.timedelta(days=14)
"""How far ahead site days are shown."""

MOST = 20
"""Lines of one kind shown; the rest are counted."""


@dataclass(frozen=True, slots=True)
class Slip:
    """One thing to do: where, why, and how urgent (late, due, waiting or nothing)."""

    title: str
    url: str
    line: str
    look: str = ""
    pill: str = ""
    icon: str = ""


@dataclass(frozen=True, slots=True)
class NextUp:
    """The page, in the order in which a person should look."""

    late: tuple[Slip, ...]
    due: tuple[Slip, ...]
    waiting: tuple[Slip, ...]
    rest: tuple[Slip, ...]

    @property
    def is_empty(self) -> bool:
        """Whether there is nothing at all."""
        return not (self.late or self.due or self.waiting or self.rest)


def next_up(person: Person, *, today: dt.date) -> NextUp:
    """Gather what concerns a person. Twenty queries at most, however much there is."""
    slips = list(_slips(person, today=today))
    return NextUp(
        late=_of(slips, "late"),
        due=_of(slips, "due"),
        waiting=_of(slips, "waiting"),
        rest=_of(slips, ""),
    )


def _of(slips: Iterable[Slip], look: str) -> tuple[Slip, ...]:
    return tuple(slip for slip in slips if slip.look == look)


def _slips(person: Person, *, today: dt.date) -> Iterator[Slip]:
    if person.may(Right.QUOTE):
        yield from _mail()
        yield from _quotes(today=today)
    if person.may(Right.KEEP_CLIENTS):
        yield from _enquiries()
    if person.may(Right.KEEP_STORES):
        yield from _to_buy(today=today)
        yield from _orders(today=today)
    yield from _site_days(today=today)
    yield from _gates()
    yield from _bench(today=today)
    if person.may(Right.PLAN_SITE_DAYS):
        yield from _unplanned_jobs()


def _mail() -> Iterator[Slip]:
    messages, more = _first(Message.objects.in_trouble())
    for message in messages:
        url = _quote_url(message)
        yield Slip(
            title=f"Not sent: {message.subject}",
            url=url,
            line=f"The mail is {message.get_state_display()}: send it again.",
            look="late",
            pill="mail",
            icon="mail",
        )
    yield from _more(more, "mails not sent", "quotes:quotes", look="late", icon="mail")


def _quote_url(message: Message) -> str:
    if message.about_kind == "quote" and message.about_id:
        return reverse("quotes:quote", args=(message.about_id,))
    if message.about_kind == "job" and message.about_id:
        return reverse("jobs:job", args=(message.about_id,))
    if message.about_kind == "order" and message.about_id:
        return reverse("jobs:order", args=(message.about_id,))
    return reverse("quotes:quotes")


def _quotes(*, today: dt.date) -> Iterator[Slip]:
    quotes, more = _first(Quote.objects.open().with_client().by_urgency(), MOST * 2)
    for quote in quotes:
        yield (
            _draft(quote)
            if quote.state == QuoteState.DRAFT
            else _sent(quote, today=today)
        )
    yield from _more(more, "open quotes", "quotes:quotes", icon="quotes")


def _draft(quote: Quote) -> Slip:
    return Slip(
        title=f"Send quote {quote.number}",
        url=quote.get_absolute_url(),
        line=f"A draft for {quote.client}.",
        icon="quotes",
    )


def _sent(quote: Quote, *, today: dt.date) -> Slip:
    end = quote.valid_until
    line = f"{quote.client} has it."
    if end is None or end > today + SOON:
        return Slip(
            title=f"Quote {quote.number} is out",
            url=quote.get_absolute_url(),
            line=line,
            look="waiting",
            pill=f"valid until {show_day(end, 'no_year')}" if end else "",
            icon="quotes",
        )
    return Slip(
        title=f"Ask after quote {quote.number}",
        url=quote.get_absolute_url(),
        line=line,
        look="late" if end < today else "due",
        pill=f"valid until {show_day(end, 'no_year')}",
        icon="quotes",
    )


def _enquiries() -> Iterator[Slip]:
    clients, more = _first(Client.objects.live().unsurveyed().with_details())
    for client in clients:
        yield Slip(
            title=f"Survey for {client}",
            url=client.get_absolute_url(),
            line="No room has been measured yet.",
            icon="measure",
        )
    yield from _more(more, "clients to survey", "shop:clients", icon="measure")


def _to_buy(*, today: dt.date) -> Iterator[Slip]:
    """Say of whom something has to be ordered today. Eight queries."""
    due = [group for group in to_buy(today=today).suppliers if group.due_count]
    yield from map(_buy, due[:MOST])
    more = len(due) - MOST
    yield from _more(
        more, "suppliers to order of", "jobs:buying", look="due", icon="stores"
    )


def _buy(group: SupplierLines) -> Slip:
    due = [line for line in group.lines if line.is_due]
    late = any(line.buy.late_days for line in due)
    jobs = ", ".join(dict.fromkeys(code for line in due for code in line.jobs))
    name = group.supplier
    return Slip(
        title=f"Order from {name} today" if name else "Say who sells what is short",
        url=reverse("jobs:buying"),
        line=f"{_counted(len(due), 'line')}, for {jobs}.",
        look="late" if late else "due",
        pill="comes too late" if late else "today",
        icon="stores",
    )


def _orders(*, today: dt.date) -> Iterator[Slip]:
    orders, more = _first(Order.objects.to_see_to(today).with_supplier())
    yield from (_order(order, today=today) for order in orders)
    yield from _more(more, "orders to see to", "jobs:orders", icon="paper")


def _order(order: Order, *, today: dt.date) -> Slip:
    count: int = order.line_count  # type: ignore[attr-defined]
    lines, url = _counted(count, "line"), order.get_absolute_url()
    if order.expected_on is None or order.is_draft:
        title = f"Place order {order.number}"
        line = f"{lines} for {order.supplier}; nothing of it is ordered yet."
        return Slip(title, url, line, icon="paper")
    if order.expected_on == today:
        title = f"Order {order.number} arrives today"
        return Slip(
            title, url, f"{lines} of {order.supplier}.", "due", "today", "paper"
        )
    pill = f"was due {show_day(order.expected_on, 'no_year')}"
    title, line = f"Ask after order {order.number}", f"{lines} of {order.supplier}."
    return Slip(title, url, line, look="late", pill=pill, icon="paper")


def _counted(count: int, noun: str) -> str:
    return f"1 {noun}" if count == 1 else f"{count} {noun}s"


def _site_days(*, today: dt.date) -> Iterator[Slip]:
    days = SiteDay.objects.planned().before_day(today + AHEAD).with_page()
    shown, more = _first(days.with_counts(), MOST * 2)
    yield from (_site_day(day, today=today) for day in shown)
    yield from _more(more, "site days", "jobs:site-days", icon="van")


def _site_day(day: SiteDay, *, today: dt.date) -> Slip:
    ready, total = day.ready_count, day.panel_count  # type: ignore[attr-defined]
    crew = ", ".join(str(person) for person in day.crew.all()) or "nobody yet"
    line = f"{day.job.client}, {crew}; {ready} of {total} panels upholstered."
    when = f"{show_day(day.on, 'full_no_year')}"
    if day.on < today:
        look, pill = "late", f"was {when}"
    elif day.on <= today + dt.timedelta(days=1):
        look, pill = "due", "today" if day.on == today else "tomorrow"
    else:
        look, pill = ("waiting", when) if ready < total else ("", when)
    return Slip(
        title=f"{day.get_kind_display().capitalize()} of {day.job.code}",
        url=day.get_absolute_url(),
        line=line,
        look=look,
        pill=pill,
        icon="van",
    )


def _gates() -> Iterator[Slip]:
    """Say what open jobs wait for before material is bought or cut. One query."""
    waiting = waiting_jobs()
    yield from map(_gate, waiting[:MOST])
    yield from _more(
        len(waiting) - MOST,
        "jobs that wait for something",
        "jobs:gates",
        look="waiting",
        icon="lock",
    )


def _gate(waiting: Waiting) -> Slip:
    job = waiting.job
    return Slip(
        title=f"{job.code} waits for {waiting.words}",
        url=f"{job.get_absolute_url()}#waits",
        line=f"{job.client}. {waiting.next_act}",
        look="waiting",
        pill=f"since {show_day(waiting.since, 'no_year')}",
        icon="lock",
    )


def _bench(*, today: dt.date) -> Iterator[Slip]:
    """Say what waits for what, and what is left to do of each job."""
    jobs = {job.pk: job for job in Job.objects.open().with_client()}
    waiting: Counter[tuple[Job, str]] = Counter()
    rework: Counter[Job] = Counter()
    left: dict[Job, Counter[str]] = {}
    for job_id, stage, waits, again, count in Panel.objects.live().tallied_by_marks():
        job = jobs.get(job_id)
        if job is None:  # finished between the two queries
            continue
        waiting[job, waits] += count if waits else 0
        rework[job] += count if again else 0
        left.setdefault(job, Counter())[stage] += count
    yield from (_waits(job, what, n) for (job, what), n in waiting.items() if n)
    yield from (_again(job, n) for job, n in rework.items() if n)
    yield from (_work(job, counts, today=today) for job, counts in left.items())


def _job_bench(job: Job) -> str:
    return f"{reverse('jobs:bench')}?job={job.code}"


def _waits(job: Job, what: str, count: int) -> Slip:
    return Slip(
        title=f"{job.code} waits for {what}",
        url=_job_bench(job),
        line=f"{_panels(count)} of {job.client}.",
        look="waiting",
        icon="waiting",
    )


def _again(job: Job, count: int) -> Slip:
    return Slip(
        title=f"{job.code} has rework",
        url=_job_bench(job),
        line=f"{_panels(count)} of {job.client} to be done again.",
        look="due",
        icon="rework",
    )


def _work(job: Job, counts: Counter[str], *, today: dt.date) -> Slip:
    to_do = to_do_words(counts)
    late = job.wanted_by is not None and job.wanted_by < today
    return Slip(
        title=f"{job.code} {job.client}",
        url=_job_bench(job),
        line=f"{to_do}." if to_do else "Everything hangs.",
        look="late" if late else "",
        pill=f"wanted by {show_day(job.wanted_by, 'no_year')}" if job.wanted_by else "",
        icon="bench",
    )


def _panels(count: int) -> str:
    return _counted(count, "panel")


def _unplanned_jobs() -> Iterator[Slip]:
    jobs, more = _first(Job.objects.open().with_client().without_site_day())
    for job in jobs:
        yield Slip(
            title=f"Plan the install day of {job.code}",
            url=f"{reverse('jobs:site-day-new')}?job={job.pk}",
            line=f"{job.client} has no day yet.",
            icon="calendar",
        )
    yield from _more(more, "jobs without a day", "jobs:job-list", icon="calendar")


def _first(rows: QuerySet[M], most: int = MOST) -> tuple[list[M], int]:
    """Fetch the first rows and how many more there are, in one query."""
    shown = list(rows.annotate(of_all=Window(Count("pk")))[:most])
    return shown, shown[0].of_all - len(shown) if shown else 0  # type: ignore[attr-defined]


def _more(
    count: int, what: str, name: str, *, icon: str, look: str = ""
) -> Iterator[Slip]:
    """Say how many were left out, and where they are."""
    if count > 0:
        yield Slip(
            title=f"and {count} more",
            url=reverse(name),
            line=f"More {what} than fit here.",
            look=look,
            icon=icon,
        )
