"""The van list with who ticked what."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from jobs.board.adapter import Like, likes
from jobs.board.models import Panel
from jobs.visits.adapter import load_of
from jobs.visits.engine import Line, VanList, van_list
from jobs.visits.models import SiteDay, VanTick
from shared.conventions import current


@dataclass(frozen=True, slots=True)
class Row:
    """One line, and its tick if it stands."""

    line: Line
    tick: VanTick | None

    @property
    def dom_id(self) -> str:
        """Name the row on the page."""
        return "tick-" + re.sub(r"[^A-Za-z0-9]+", "-", self.line.key)


@dataclass(frozen=True, slots=True)
class RowGroup:
    """Rows that are fetched from the same place, and how many of them are left."""

    key: str
    title: str
    rows: tuple[Row, ...]
    left: int


@dataclass(frozen=True, slots=True)
class VanPage:
    """The van list as it stands; `left_only` shows what is still to be loaded."""

    groups: tuple[RowGroup, ...]
    done: int
    total: int
    left_only: bool
    keys: frozenset[str]
    """What can be ticked, shown or not."""
    unticked: tuple[Line, ...]
    """What is still to be loaded, in the order of loading."""

    @property
    def left(self) -> int:
        """How many lines are still to be loaded."""
        return self.total - self.done


def day_likes(day: SiteDay) -> tuple[Like, ...]:
    """Group the panels that go. Two queries."""
    return likes(Panel.objects.on_site_day(day.pk).with_group())


def list_of(groups: Iterable[Like]) -> VanList:
    """Work out the van list in the shop's units."""
    conventions = current()
    return van_list(
        load_of(groups), units=conventions.unit_system, fraction=conventions.fraction
    )


def van_page(
    day: SiteDay,
    *,
    left_only: bool = False,
    also: str = "",
    groups: Iterable[Like] = (),
) -> VanPage:
    """Lay out the van list; `also` is a line to show though it is ticked. Three queries.

    `groups` spares two of them where they were read before.
    """
    listed = list_of(groups or day_likes(day))
    ticks = VanTick.objects.standing(day)
    done = sum(1 for line in listed.lines if line.key in ticks)
    shown = (
        RowGroup(
            key=group.key,
            title=group.title,
            rows=tuple(
                Row(line, ticks.get(line.key))
                for line in group.lines
                if not left_only or line.key not in ticks or line.key == also
            ),
            left=sum(1 for line in group.lines if line.key not in ticks),
        )
        for group in listed.groups
    )
    return VanPage(
        groups=tuple(group for group in shown if group.rows),
        done=done,
        total=len(listed.lines),
        left_only=left_only,
        keys=frozenset(line.key for line in listed.lines),
        unticked=tuple(line for line in listed.lines if line.key not in ticks),
    )
