"""What is left open when a site day is closed: named before, kept after."""

from __future__ import annotations

import uuid
from collections.abc import Collection, Iterator
from dataclasses import dataclass

from jobs.board.codes import runs_of
from jobs.visits.engine import Line
from jobs.visits.models import HowEnded, LooseEnd, SiteDay
from jobs.visits.reports.days import DayPage


@dataclass(frozen=True, slots=True)
class Ended:
    """Loose ends of one kind, as a day's page shows them."""

    label: str
    ends: tuple[LooseEnd, ...]


def line_words(line: Line) -> str:
    """Name a line of the van list in a few words: J1-02, Screw × 34."""
    name = line.code or line.name
    return f"{name} × {line.count}" if line.count else name


def loose_ends(
    page: DayPage,
    *,
    hung: Collection[uuid.UUID],
    left: Collection[str],
    cleared_by: str = "",
) -> tuple[LooseEnd, ...]:
    """Give what is left open, numbered and not stored yet.

    `hung` are panels that hang now; `left` are lines, by key, that stayed behind: any
    other line that was not ticked was taken along. `cleared_by` is what somebody says of
    panels that hang and were not cleared.
    """
    found = (
        *_unticked(page, left),
        *_uncleared(page, frozenset(hung), cleared_by),
    )
    for number, end in enumerate(found, start=1):
        end.number = number
    return found


def _unticked(page: DayPage, left: Collection[str]) -> Iterator[LooseEnd]:
    for line in page.unticked:
        how = HowEnded.LEFT if line.key in left else HowEnded.TAKEN
        yield LooseEnd(how=how, key=line.key, name=line_words(line))


def _uncleared(
    page: DayPage, hung: frozenset[uuid.UUID], cleared_by: str
) -> Iterator[LooseEnd]:
    for each in page.uncleared:
        codes = runs_of(p.code for p in each.like.panels if p.pk in hung)
        if codes and each.path:
            missing = "; ".join(each.path.missing)
            said = f" Cleared, it was said: {cleared_by}" if cleared_by else ""
            yield LooseEnd(
                how=HowEnded.UNCLEARED,
                key=f"path:{each.like.key}",
                name=f"{codes} {each.what}",
                note=f"{missing}.{said}",
            )


def ended(day: SiteDay) -> tuple[Ended, ...]:
    """Give the loose ends of a closed day by kind. One query."""
    rows = tuple(LooseEnd.objects.of_day(day))
    kinds = (
        Ended(how.label, tuple(row for row in rows if row.how == how))
        for how in HowEnded
    )
    return tuple(kind for kind in kinds if kind.ends)
