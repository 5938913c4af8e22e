"""How long a search may go on: by work done and by the caller's word, never by a clock."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

DEFAULT_WORK = 10_000


def _never() -> bool:
    return False


@dataclass(frozen=True, slots=True)
class Progress:
    """The best plan so far and the bound below it, in the unit of prices."""

    price: int | None
    lower_bound: int


def _silent(progress: Progress) -> None:
    """Tell nobody."""


@dataclass(frozen=True, slots=True)
class Effort:
    """The most work to do, and who may end it or wants to hear of it.

    One unit of ``work`` is a million elementary steps, about a millisecond. The same
    work gives the same plan on any machine, unless ``should_stop`` says so.
    """

    work: int = DEFAULT_WORK
    should_stop: Callable[[], bool] = _never
    tell: Callable[[Progress], None] = _silent


class Meter:
    """Counts the work of one search."""

    def __init__(self, effort: Effort) -> None:
        """Begin at nothing."""
        self.effort = effort
        self.steps = 0
        self._told_to_stop = False

    def part(self, work: int) -> Meter:
        """Return a meter for a part of the search, silent, with no more than is left."""
        return Meter(Effort(min(work, self.left), self.effort.should_stop))

    def spend(self, steps: int) -> None:
        """Count elementary steps."""
        self.steps += steps

    @property
    def work(self) -> int:
        """Return the units of work done."""
        return self.steps // 1_000_000

    @property
    def left(self) -> int:
        """Return the units of work that may still be done."""
        return max(0, self.effort.work - self.work)

    def is_over(self) -> bool:
        """Tell whether to come to an end now."""
        if not self._told_to_stop:
            self._told_to_stop = self.effort.should_stop()
        return self._told_to_stop or self.work >= self.effort.work
