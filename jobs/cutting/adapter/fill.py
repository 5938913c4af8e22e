"""Fill: takeoffs turned into the pieces that are cut of slabs."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from jobs.cutting.adapter.wood import Alike
from quotes.specs.engine.cutlist import CutPart, Share
from shared.length import UnitSystem, show_size


def fill_parts(
    groups: Iterable[Alike], material: str, *, units: UnitSystem
) -> tuple[CutPart, ...]:
    """Return the pieces of a fill for some panels, the largest first; each kind taken off once.

    Raises `CannotBeBuiltError`.
    """
    found: dict[tuple[int, int], CutPart] = {}
    for group in groups:
        if material not in group.fills:
            continue
        for fill in group.takeoff().fills:
            if fill.material == material:
                sides = fill.width_ticks, fill.height_ticks
                size = max(sides), min(sides)
                shares = tuple(
                    Share(str(panel.pk), "fill", fill.count) for panel in group.panels
                )
                before = found.get(size) or _part(
                    material, *size, fill.thickness_ticks, units
                )
                found[size] = replace(
                    before,
                    count=before.count + fill.count * len(shares),
                    shares=before.shares + shares,
                )
    return tuple(found[size] for size in sorted(found, reverse=True))


def _part(
    material: str, length: int, width: int, thickness: int, units: UnitSystem
) -> CutPart:
    return CutPart(
        key=show_size(length, width, units=units, fraction=64),
        stock=material,
        label="fill",
        width_ticks=width,
        length_ticks=length,
        thickness_ticks=thickness,
        count=0,
        shares=(),
    )
