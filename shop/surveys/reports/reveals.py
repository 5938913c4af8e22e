"""What a panel in an opening hangs on, and what was read for it, in words."""

from __future__ import annotations

from collections.abc import Iterator

from shared.conventions import current
from shop.surveys import adapter
from shop.surveys.models import Axis, Opening

_EACH = {
    Axis.WIDTH: "Widths from the top",
    Axis.HEIGHT: "Heights from the left",
    Axis.DIAGONAL: "Diagonals from the upper left, upper right",
}


def reveal_words(opening: Opening) -> str:
    """Say how deep the reveal is, what glass is behind, and what is in the way."""
    words = ", ".join(_words(opening))
    return words[:1].upper() + words[1:]


def as_read(opening: Opening) -> Iterator[str]:
    """Say every reading, a line for each axis that was read more than once."""
    for axis, name in _EACH.items():
        read = [one for one in opening.readings.all() if one.axis == axis]
        if len(read) > 1:
            sizes = (adapter.shown(one.ticks, current()) for one in read)
            yield f"{name}: {', '.join(sizes)}"


def _words(opening: Opening) -> Iterator[str]:
    depths = (
        ("reveal", opening.reveal_depth_ticks),
        ("panel", opening.panel_depth_ticks),
    )
    for name, ticks in depths:
        if ticks is not None:
            yield f"{name} {adapter.shown(ticks, current())} deep"
    if opening.glass:
        yield f"glass: {opening.get_glass_display()}"
    if opening.faces:
        yield f"faces {opening.get_faces_display()}"
    if opening.obstructions:
        yield f"in the way: {opening.obstructions}"
    if opening.must_open:
        yield "must open"
