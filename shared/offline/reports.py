"""What pages need to know to hang fields on the device's queue."""

from __future__ import annotations

import uuid
from collections.abc import Iterable

from shared.offline.models import FieldVersion

Versions = dict[tuple[uuid.UUID, str], int]
"""By record and field; what is missing is at 0."""


def versions(kinds: Iterable[str], ids: Iterable[uuid.UUID]) -> Versions:
    """Return the version of each field of records of some kinds. One query."""
    return {
        (row.record_id, row.field): row.version
        for row in FieldVersion.objects.of(kinds, ids)
    }
