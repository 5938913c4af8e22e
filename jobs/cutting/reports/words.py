"""How the shop writes lengths where something is cut."""

from __future__ import annotations

from jobs.cutting.engine.notation import Notation
from shared.conventions import current


def notation() -> Notation:
    """Return how the shop writes lengths."""
    conventions = current()
    # a fence is set finer than a room is measured
    return Notation(conventions.unit_system, max(32, conventions.fraction))
