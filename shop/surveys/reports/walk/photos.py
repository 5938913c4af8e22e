"""Photos on the walk: each may be taken out there."""

from __future__ import annotations

from collections.abc import Iterable

from shared.files.models import Attachment
from shared.offline.reports import Versions
from shop.surveys.reports.walk.fields import REMOVED, Kind, Part, part_of

PHOTO = Kind("photo", (REMOVED,))


def photo_parts(
    photos: Iterable[Attachment], title: str, versions: Versions
) -> tuple[Part, ...]:
    """Return photos as parts that may be taken out."""
    return tuple(
        part_of(PHOTO, photo, f"photo {number} of {title}, by {photo.by}", versions)
        for number, photo in enumerate(photos, start=1)
    )
