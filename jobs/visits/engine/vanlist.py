"""The van list: panels by code, wood for the building, hardware, tools and bits."""

from __future__ import annotations

import math
from collections.abc import Iterable
from decimal import ROUND_CEILING, Decimal

from jobs.board.codes import runs_of
from jobs.visits.engine.model import Group, Line, Load, VanItem, VanList, VanPanel
from jobs.visits.engine.tools import bits, tools
from shared.length import UnitSystem, show
from shared.units import M_PER_FOOT

VERSION = "van list 1"
PIECES = frozenset({"each", ""})
KEY_LENGTH = 80
"""As much of a key as a tick keeps."""


def van_list(
    load: Load, *, units: UnitSystem = UnitSystem.METRIC, fraction: int = 16
) -> VanList:
    """Work out everything to load, line by line, each with its reason.

    Hardware is added up over all panels before it is rounded up; its spares are added
    up exactly and rounded up to whole pieces (to a tenth of a metre, or half a foot).
    What counts once for the job is taken once.

    Parameters
    ----------
    load : panels and rooms. units, fraction : how lengths are printed.
    """
    groups = (
        Group("panels", "Panels", tuple(_panel(panel) for panel in load.panels)),
        Group("wood", "For the building", _pieces(load.panels, units, fraction)),
        Group("hardware", "Hardware", _hardware(load.panels, units)),
        Group("tools", "Tools", tools(load) if load.panels else ()),
        Group("bits", "Bits and plugs", bits(load)),
    )
    return VanList(VERSION, tuple(group for group in groups if group.lines))


def _panel(panel: VanPanel) -> Line:
    return Line(
        key=f"panel:{panel.code}",
        name=panel.what,
        why=f"{panel.size}, {panel.room}",
        code=panel.code,
        warning=panel.not_ready,
    )


def _pieces(
    panels: Iterable[VanPanel], units: UnitSystem, fraction: int
) -> tuple[Line, ...]:
    """Count pieces of wood by name and length, with the panels that they are for."""
    counts: dict[tuple[str, int], int] = {}
    owners: dict[tuple[str, int], list[str]] = {}
    for panel in panels:
        for piece in panel.pieces:
            key = (piece.label, piece.length_ticks)
            counts[key] = counts.get(key, 0) + piece.count
            owners.setdefault(key, []).append(panel.code)
    return tuple(
        Line(
            key=_key(f"part:{label}", f"{ticks}:{count}"),
            name=f"{label.capitalize()}, {show(ticks, units=units, fraction=fraction)}",
            why=f"for {runs_of(owners[label, ticks])}; the code is written on each",
            count=str(count),
        )
        for (label, ticks), count in counts.items()
    )


def _key(name: str, end: str) -> str:
    """Name a line with its count at the end, which is never cut off."""
    end = f":{end}"
    return (name[: KEY_LENGTH - len(end)] + end).replace(" ", "-")


def _hardware(panels: Iterable[VanPanel], units: UnitSystem) -> tuple[Line, ...]:
    found: dict[str, list[VanItem]] = {}
    for panel in panels:
        for item in panel.items:
            found.setdefault(item.material, []).append(item)
    lines = (_counted(items, units) for items in found.values())
    return tuple(sorted(lines, key=lambda line: line.name.casefold()))


def _counted(items: list[VanItem], units: UnitSystem) -> Line:
    first = items[0]
    each = [item for item in items if not item.once]
    once = [item for item in items if item.once]
    needed = sum((i.quantity for i in each), Decimal(0))
    spare = sum((i.spare for i in each), Decimal(0))
    if once:
        needed += max(item.quantity for item in once)
        spare += max(item.spare for item in once)
    key = f"item:{first.material}"
    if first.unit in PIECES:
        whole, more = math.ceil(needed), math.ceil(spare)
        why = f"{whole} needed, {more} to spare" if more else f"{whole} needed"
        count = str(whole + more)
        return Line(_key(key, count), first.name, why, count=count)
    whole_text = measure(needed, first.unit, units)
    all_text = measure(needed + spare, first.unit, units)
    why = f"{whole_text} needed, the rest to spare" if spare else f"{whole_text} needed"
    return Line(_key(key, all_text), first.name, why, count=all_text)


def measure(amount: Decimal, unit: str, units: UnitSystem) -> str:
    """Print what is not counted in pieces, rounded up: 4.4 m, 14.5 ft, 120 ml."""
    if unit == "m" and units is UnitSystem.IMPERIAL:
        halves = math.ceil(amount / Decimal(str(M_PER_FOOT)) * 2)
        return f"{_plain(Decimal(halves) / 2)} ft"
    step = Decimal("0.1") if unit == "m" else Decimal(1)
    return f"{_plain(amount.quantize(step, rounding=ROUND_CEILING))} {unit}"


def _plain(amount: Decimal) -> str:
    text = f"{amount:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
