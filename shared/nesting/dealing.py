"""Parts of the same size are one item to the solver; here each gets its name back."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Hashable, Iterable
from typing import Generic, TypeVar

Size = TypeVar("Size", bound=Hashable)


class Items(Generic[Size]):
    """Sizes in the order in which they first came, with the parts that have them."""

    def __init__(self, parts: Iterable[tuple[Size, str, int]]) -> None:
        """Put parts of equal size together: size, key and count."""
        self._counts: dict[Size, int] = defaultdict(int)
        self._keys: dict[Size, deque[tuple[str, int]]] = defaultdict(deque)
        for size, key, count in parts:
            self._counts[size] += count
            self._keys[size].append((key, count))

    @property
    def sizes(self) -> list[Size]:
        """Return each size once."""
        return list(self._counts)

    @property
    def demand(self) -> tuple[int, ...]:
        """Return how many pieces of each size are wanted."""
        return tuple(self._counts.values())

    def deal(self, item: int, count: int) -> list[tuple[str, int]]:
        """Take so many pieces of a size: keys and counts, those named first before."""
        queue = self._keys[self.sizes[item]]
        dealt = []
        while count:
            key, left = queue.popleft()
            take = min(left, count)
            dealt.append((key, take))
            count -= take
            if take < left:
                queue.appendleft((key, left - take))
        return dealt
