"""What carries the panels of a site day, and what keeps them from being cleared."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from jobs.board.adapter import Like, likes
from jobs.board.codes import runs_of
from jobs.board.models import Panel
from jobs.visits.models import SiteDay
from quotes.safety.adapter import panel_path, subjects_of
from quotes.safety.engine import Element, LoadPath, Member, Rated
from quotes.safety.models import LoadStatement
from shared.conventions import current


@dataclass(frozen=True, slots=True)
class ElementLine:
    """One element of a path, with what somebody stated of it since, if anybody did."""

    element: Element
    stated: LoadStatement | None


@dataclass(frozen=True, slots=True)
class LikePath:
    """Panels that are alike, and their load path; none where nothing hangs."""

    like: Like
    path: LoadPath | None
    lines: tuple[ElementLine, ...]

    @property
    def codes(self) -> str:
        """Their codes, runs drawn together."""
        return runs_of(self.like.codes)

    @property
    def what(self) -> str:
        """What they are."""
        return self.like.first.spec_name

    @property
    def is_stopped(self) -> bool:
        """Whether they hang and are not cleared."""
        return self.path is not None and not self.path.cleared


def paths_of(groups: Iterable[Like]) -> tuple[LikePath, ...]:
    """Work out the load path of each kind of panel. One query."""
    groups = tuple(groups)
    subjects = {key for group in groups for key in subjects_of(group.carried)}
    statements = LoadStatement.objects.standing(subjects)
    rated = {
        key: Rated(row.load_n, row.source)
        for key, row in statements.items()
        if row.load_n is not None
    }
    return tuple(_path(group, statements, rated) for group in groups)


def _path(
    group: Like, statements: dict[str, LoadStatement], rated: dict[str, Rated]
) -> LikePath:
    path = panel_path(group.carried, rated, units=current().unit_system)
    lines = tuple(
        ElementLine(element, statements.get(element.subject))
        for element in (path.elements if path else ())
    )
    return LikePath(group, path, lines)


def day_paths(day: SiteDay) -> tuple[LikePath, ...]:
    """Work out the load paths of a day's panels. Three queries."""
    return paths_of(likes(Panel.objects.on_site_day(day.pk).with_group()))


def names_of(paths: Iterable[LikePath]) -> dict[str, str]:
    """Name everything whose working load somebody may state, by subject.

    What a build names twice, or several builds share, is there once.
    """
    return {
        line.element.subject: _name(line.element, each)
        for each in paths
        for line in each.lines
        if line.element.subject
    }


def _name(element: Element, of: LikePath) -> str:
    """Name an element so that it is told from its like in another room or build."""
    match element.member:
        case Member.FRAMING:
            return f"{element.name}, {of.like.first.room_name}"
        case Member.FRAME | Member.JOINT:
            return f"{element.name}, {of.what}"
        case _:
            return element.name
