"""How long a search may go on: by work done and by the caller's word, never by a clock."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

DEFAULT_WORK = 10_000
TELL_EVERY = 200  # units of work between two words, where nothing is gained


def _never() -> bool:
    return False


@dataclass(frozen=True, slots=True)
class Progress:
    """The best plan so far, the bound below it, in the unit of prices, and the work done."""

    price: int | None
    lower_bound: int
    work: int = 0


def _silent(progress: Progress) -> None:
    """Tell nobody."""


@dataclass(frozen=True, slots=True)
class Effort:
    """The most work to do, and who may end it or wants to hear of it.

    One unit of ``work`` is a million elementary steps, about a millisecond. The same
    work gives the same plan on any machine, unless ``should_stop`` says so; it is asked
    every few milliseconds. ``tell`` hears of each gain, and now and then of work alone.
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
        self._outer: Meter | None = None
        self._last = Progress(None, 0)

    def part(self, work: int) -> Meter:
        """Return a meter for a part of the search, with no more than is left.

        What it spends counts here, and what it finds is not told.
        """
        part = Meter(Effort(min(work, self.left), self.effort.should_stop))
        part._outer = self
        return part

    def spend(self, steps: int) -> None:
        """Count elementary steps."""
        self.steps += steps
        if self._outer:
            self._outer.spend(steps)
        elif self.work >= self._last.work + TELL_EVERY:
            self.tell(self._last.price, self._last.lower_bound)

    def tell(self, price: int | None, lower_bound: int) -> None:
        """Pass on how far the search has come."""
        self._last = Progress(price, lower_bound, self.work)
        self.effort.tell(self._last)

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
