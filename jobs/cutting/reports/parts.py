"""The parts of a plan, whose each is, and a label for every one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from jobs.board.codes import runs_of
from jobs.cutting.engine import Request
from jobs.cutting.engine.notation import Notation, letters_of
from quotes.specs.engine.cutlist import CutPart, Share


@dataclass(frozen=True, slots=True)
class PartLine:
    """Parts of one size."""

    key: str
    letter: str
    label: str
    size: str
    count: int
    note: str
    owners: str


@dataclass(frozen=True, slots=True)
class PartLabel:
    """What is stuck on one part."""

    letter: str
    panel: str
    name: str
    size: str


def part_lines(request: Request, notation: Notation) -> tuple[PartLine, ...]:
    """Return the parts in the order of their letters."""
    letters = letters_of(request)
    codes = {panel.id: panel.code for panel in request.panels}
    return tuple(
        PartLine(
            key=part.key,
            letter=letters[part.key],
            label=part.label,
            size=notation.size(part.length_ticks, part.width_ticks),
            count=part.count,
            note=_note(part, notation),
            owners=runs_of(sorted({codes[share.panel] for share in part.shares})),
        )
        for part in request.parts
    )


def _note(part: CutPart, notation: Notation) -> str:
    if part.is_pair:
        mates = _mates(part, notation)
        return f"each ripped in two at {part.bevel_deg:g}°: one hangs, one on the wall{mates}"
    if part.bevel_deg:
        short = notation.length(part.short_face_ticks)
        return f"one long edge at {part.bevel_deg:g}°, short face {short}"
    return ""


def _mates(part: CutPart, notation: Notation) -> str:
    lengths = sorted(
        {mate.length_ticks for share in part.shares for mate in share.mates}
    )
    if not lengths:
        return ""
    return f", cut to {', '.join(notation.length(each) for each in lengths)}"


def part_labels(request: Request, notation: Notation) -> tuple[PartLabel, ...]:
    """Return a label for every part, panel by panel: those that are loaded on a bench."""
    letters = letters_of(request)
    codes = {panel.id: panel.code for panel in request.panels}
    found = [
        label
        for part in request.parts
        for share in part.shares
        for label in _labels(
            part, share, codes[share.panel], letters[part.key], notation
        )
    ]
    return tuple(sorted(found, key=lambda label: label.panel))


def _labels(
    part: CutPart, share: Share, code: str, letter: str, notation: Notation
) -> Iterator[PartLabel]:
    size = notation.size(part.length_ticks, part.width_ticks)
    if part.bevel_deg:
        size += f", {part.bevel_deg:g}°"
    for _ in range(share.count):
        yield PartLabel(letter, code, share.label, size)
    for mate in share.mates:
        for _ in range(mate.count):
            length = notation.length(mate.length_ticks)
            tilted = f"{length}, {part.bevel_deg:g}°"
            yield PartLabel(letter, code, mate.label, tilted)
