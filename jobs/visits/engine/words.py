"""How lists count and join words."""

from __future__ import annotations

from collections.abc import Iterable


def listed(words: Iterable[str]) -> str:
    """Join words as a sentence does: brick, block and concrete."""
    found = list(dict.fromkeys(words))
    if len(found) < 2:
        return "".join(found)
    return f"{', '.join(found[:-1])} and {found[-1]}"


def counted(count: int, noun: str) -> str:
    """Print a count with its noun: 1 panel, 3 panels."""
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"
