"""What a file does, as its page shows it."""

from __future__ import annotations

from dataclasses import dataclass

from django.core.paginator import Page

from shop.catalogue.models import Effect, Import, ImportLine

LOOKS = {
    Effect.NEW: "accepted",
    Effect.CHANGED: "due",
    Effect.REFUSED: "declined",
    Effect.SAME: "draft",
}


@dataclass(frozen=True, slots=True)
class ShownChange:
    """One field of a line: before and after, and how far a price moves."""

    label: str
    before: str
    after: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class ShownProblem:
    """Why a line can't be stored: which cell, what is said, what was in it."""

    label: str
    sentence: str
    typed: str


@dataclass(frozen=True, slots=True)
class ShownLine:
    """A line of a file as the page shows it."""

    number: int
    key: str
    name: str
    effect: str
    look: str
    changes: tuple[ShownChange, ...]
    problems: tuple[ShownProblem, ...]

    @property
    def is_new(self) -> bool:
        """Whether its values have no others before them."""
        return self.effect == Effect.NEW.label


@dataclass(frozen=True, slots=True)
class Count:
    """How many lines have one effect."""

    effect: str
    label: str
    number: int


@dataclass(frozen=True, slots=True)
class Counts:
    """How many lines have each effect, and together."""

    by_effect: tuple[Count, ...]
    total: int
    refused: int
    storable: int

    @property
    def telling(self) -> int:
        """How many lines do something, or are refused."""
        return self.storable + self.refused


def _words(column: str) -> str:
    return column.replace("_", " ")


def shown_line(line: ImportLine) -> ShownLine:
    """Gather a line."""
    effect = Effect(line.effect)
    return ShownLine(
        number=line.number,
        key="" if line.key == line.name else line.key,
        name=line.name,
        effect=effect.label,
        look=LOOKS[effect],
        changes=tuple(ShownChange(_words(c), *rest) for c, *rest in line.changes),
        problems=tuple(ShownProblem(_words(c), *rest) for c, *rest in line.problems),
    )


def shown_lines(page: Page[ImportLine]) -> list[ShownLine]:
    """Gather a page of lines."""
    return [shown_line(line) for line in page]


def counts(imported: Import) -> Counts:
    """Count the lines of a file. One query."""
    found = ImportLine.objects.filter(of=imported).counts()
    return Counts(
        tuple(Count(e, e.label, found[e]) for e in Effect if found[e]),
        total=sum(found.values()),
        refused=found[Effect.REFUSED],
        storable=found[Effect.NEW] + found[Effect.CHANGED],
    )
