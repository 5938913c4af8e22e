"""Bench sheets of a job's panels, from what was frozen of them: never any money."""

from __future__ import annotations

from collections.abc import Sequence

from jobs.board.adapter import as_built
from jobs.board.models import Panel
from quotes.specs.documents import letterhead_of, panel_sheet_pdf
from shop.people.models import ShopProfile


def bench_sheet(panels: Sequence[Panel], *, profile: ShopProfile) -> bytes:
    """Print the sheet of panels that are alike; slow, so never in a transaction.

    Raises `TakeoffError` when they were measured at a size that can't be built.
    """
    first = panels[0]
    notes = [panel.snapshot["panel"]["note"] for panel in panels]
    if first.measured_width_text:
        size = f"{first.measured_width_text} × {first.measured_height_text}"
        notes.append(f"Made to the size measured on site: {size}.")
    return panel_sheet_pdf(
        as_built(first),
        letterhead=letterhead_of(profile),
        codes=[panel.code for panel in panels],
        notes=tuple(dict.fromkeys(note for note in notes if note)),
    )
