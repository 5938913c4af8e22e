"""The versions of all fields of a walk at once."""

from __future__ import annotations

import uuid
from collections.abc import Iterable

from shared.offline.models import FieldVersion
from shop.surveys.reports.walk.fields import Versions


def all_versions(kinds: Iterable[str], ids: Iterable[uuid.UUID]) -> Versions:
    """Return the versions of the fields of records of some kinds. One query."""
    # Both, since the index begins with the kind.
    rows = FieldVersion.objects.filter(kind__in=list(kinds), record_id__in=list(ids))
    return {(row.record_id, row.field): row.version for row in rows}
