"""What is left to do of a job: at the bench, on site, and what was left behind."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from django.urls import reverse

from jobs.board.models import Job, Panel
from jobs.board.stories import to_do_words
from jobs.visits.engine.words import counted, listed
from jobs.visits.models import SiteDay, SiteDayState
from shared.dates import show_day


@dataclass(frozen=True, slots=True)
class Left:
    """One thing that is left to do, and where."""

    text: str
    url: str


def left_of_job(
    job: Job, days: Sequence[SiteDay], *, today: dt.date
) -> tuple[Left, ...]:
    """Say what is left; nothing when every panel hangs and every day is closed. One query.

    `days` are all of the job's, in order, `with_left_behind()`.
    """
    return (*_at_the_bench(job), *_on_site(days, today=today), *_behind(days))


def _at_the_bench(job: Job) -> Iterator[Left]:
    url = f"{reverse('jobs:bench')}?job={job.code}" if job.is_open else ""
    stages: Counter[str] = Counter()
    waiting: Counter[str] = Counter()
    rework = 0
    rows = Panel.objects.of_job(job).tallied_by_marks()
    for _, stage, waits_for, again, count in rows:
        stages[stage] += count
        waiting[waits_for] += count if waits_for else 0
        rework += count if again else 0
    if words := to_do_words(stages):
        yield Left(f"Panels: {words}.", url)
    if rework:
        yield Left(f"{counted(rework, 'panel')} to be done again.", url)
    for what, count in waiting.items():
        if count:
            verb = "waits" if count == 1 else "wait"
            yield Left(f"{counted(count, 'panel')} {verb} for {what}.", url)


def _on_site(days: Iterable[SiteDay], *, today: dt.date) -> Iterator[Left]:
    for day in days:
        if day.is_planned:
            kind, on = day.get_kind_display().capitalize(), f"{show_day(day.on)}"
            text = f"{kind} day of {on} is to be closed."
            if day.on >= today:
                text = f"{kind} day on {on}."
            yield Left(text, day.get_absolute_url())


def _behind(days: Iterable[SiteDay]) -> Iterator[Left]:
    """Name what stayed behind on the last day that is over: earlier ones are settled."""
    over = [day for day in days if day.state == SiteDayState.DONE]
    for day in over[-1:]:
        names = [end.name for end in day.left_behind]  # type: ignore[attr-defined]
        if names:
            text = f"Left behind on {show_day(day.on)}: {listed(names)}."
            yield Left(text, day.get_absolute_url())
