"""What later features tell buying."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Callable, Collection, Mapping

from shared.slots import Slot

INSTALL_DAYS: Slot[Callable[[Collection[uuid.UUID]], Mapping[uuid.UUID, dt.date]]] = (
    Slot("install days")
)
"""Functions that give the first install day that stands, of those jobs that have one.

One query, however many jobs.
"""


def install_days(jobs: Collection[uuid.UUID]) -> dict[uuid.UUID, dt.date]:
    """Ask them all; the earliest day counts."""
    found: dict[uuid.UUID, dt.date] = {}
    for ask in INSTALL_DAYS:
        for job, day in ask(jobs).items():
            found[job] = min(day, found.get(job, day))
    return found
