"""What pages need to know to hang a field on the device's queue."""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from dataclasses import dataclass

from shared.length import UnitSystem
from shared.offline.models import FieldVersion


@dataclass(frozen=True, slots=True)
class OfflineField:
    """A field as a page shows it: where it writes to, and the version it shows.

    ``look`` is line, area or length; a length says the shop's units.
    """

    op: str
    kind: str
    record_id: uuid.UUID
    name: str
    label: str
    value: str
    version: int = 0
    look: str = "line"
    units: str = ""
    fraction: int = 16

    @property
    def id(self) -> str:
        """An id for its box, the only one on a page."""
        return f"{self.kind}-{self.record_id}-{self.name}"

    @property
    def keys(self) -> str:
        """Which keys a phone shows: decimal ones have no foot or inch mark."""
        return "decimal" if self.units == UnitSystem.METRIC else "text"

    @property
    def lane(self) -> str:
        """What is written to one record is sent in order."""
        return f"{self.kind}:{self.record_id}"


def versions(kind: str, ids: Iterable[uuid.UUID]) -> dict[tuple[uuid.UUID, str], int]:
    """Return the version of each field of some records; what is missing is at 0."""
    rows = FieldVersion.objects.of(kind, ids)
    return {(row.record_id, row.field): row.version for row in rows}
