"""Pictures from a camera: read as pictures, shrunk, and rid of all that is not seen."""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass

from PIL import Image, ImageOps, UnidentifiedImageError

from shared.files.actions import keep_written, write_bytes
from shared.files.models import StoredFile

MOST_BYTES = 12_000_000
LONGEST_SIDE = 2560
QUALITY = 85
_MOST_PIXELS = 60_000_000
_FORMATS = ("JPEG", "PNG", "WEBP")


class NotAPictureError(Exception):
    """What was sent can't be taken as a picture; the message is a sentence."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture that lies in storage and has no row yet."""

    path: str
    digest: str
    size: int


def write_picture(data: bytes) -> Picture:
    """Make a JPEG of a picture, without its metadata, and put it into storage."""
    if len(data) > MOST_BYTES:
        raise NotAPictureError(
            f"This picture is too large: send at most {MOST_BYTES // 1_000_000} MB."
        )
    clean = _clean(data)
    path, digest = write_bytes(clean)
    return Picture(path, digest, len(clean))


def keep_picture(picture: Picture, *, name: str = "photo.jpg") -> StoredFile:
    """Make the row of a picture, in the caller's transaction."""
    return keep_written(
        picture.path,
        digest=picture.digest,
        size=picture.size,
        name=name,
        content_type="image/jpeg",
    )


def _clean(data: bytes) -> bytes:
    """Turn it upright, shrink it, and write its pixels anew: nothing else goes along."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            found = Image.open(io.BytesIO(data), formats=_FORMATS)
        if found.width * found.height > _MOST_PIXELS:
            raise NotAPictureError("This picture has too many points. Take it smaller.")
        upright = ImageOps.exif_transpose(found).convert("RGB")
    except (UnidentifiedImageError, OSError, ValueError, SyntaxError) as wrong:
        raise NotAPictureError(
            "This is no picture that can be read. Send a JPEG, PNG or WebP."
        ) from wrong
    upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    upright.info.clear()
    written = io.BytesIO()
    upright.save(written, "JPEG", quality=QUALITY)
    return written.getvalue()
