"""What a panel in an opening hangs on, in words."""

from __future__ import annotations

from collections.abc import Iterator

from shared.conventions import current
from shop.surveys import adapter
from shop.surveys.models import Opening


def reveal_words(opening: Opening) -> str:
    """Say how deep the reveal is, what glass is behind, and what is in the way."""
    words = ", ".join(_words(opening))
    return words[:1].upper() + words[1:]


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
