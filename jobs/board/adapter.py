"""A panel's frozen part, taken off anew at the size that was measured."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field, fields, replace
from typing import Any

from jobs.board.models import Panel
from quotes.safety.adapter import Carried
from quotes.specs import frozen
from quotes.specs.engine import take_off
from quotes.specs.engine.drawing import Panel as Drawn
from quotes.specs.engine.drawing import Paper, panel_drawing
from quotes.specs.engine.model import (
    Build,
    NominalSize,
    Stock,
    StockKind,
    Takeoff,
    TakeoffError,
)
from shared.length import UnitSystem

SHEET_MM = 178.0
"""As wide as A4 and Letter have room for."""


@dataclass(frozen=True, slots=True)
class Like:
    """Panels of a job that are alike, with what was frozen of them."""

    key: str
    panels: tuple[Panel, ...]
    snapshot: Mapping[str, Any]
    carried: Carried = field(repr=False)

    @property
    def first(self) -> Panel:
        """The first of them, by number."""
        return self.panels[0]

    @property
    def codes(self) -> tuple[str, ...]:
        """Their codes, in order."""
        return tuple(panel.code for panel in self.panels)

    @property
    def takeoff(self) -> Takeoff:
        """What each is made of."""
        return self.carried.takeoff


def likes(panels: Iterable[Panel]) -> tuple[Like, ...]:
    """Group panels that are made alike, in order of code; reads one snapshot of each.

    Those that were measured at another size are a group of their own, taken off anew.
    `panels` come from `with_group()`. One query.
    """
    groups: dict[tuple[str, int, int], list[Panel]] = {}
    for panel in panels:
        group: str = panel.group  # type: ignore[attr-defined]
        size = (panel.build_width_ticks, panel.build_height_ticks)
        groups.setdefault((group, *size), []).append(panel)
    firsts = Panel.objects.snapshots_of(each[0].pk for each in groups.values())
    return tuple(
        _like(f"{group}-{number}", tuple(each), firsts[each[0].pk])
        for number, ((group, *_), each) in enumerate(groups.items(), start=1)
    )


def _like(key: str, panels: tuple[Panel, ...], snapshot: dict[str, Any]) -> Like:
    """Lay out one group; as quoted where the measured size can't be built."""
    first = panels[0]
    width, height = first.build_width_ticks, first.build_height_ticks
    with suppress(TakeoffError):
        snapshot = at_size(snapshot, width_ticks=width, height_ticks=height)
    return Like(key, panels, snapshot, carried_of(snapshot))


def carried_of(snapshot: Mapping[str, Any]) -> Carried:
    """Read what a panel's snapshot says of how it is made and where it goes."""
    return Carried(
        takeoff=frozen.takeoff_from_json(snapshot["takeoff"]),
        build=frozen.build_from_json(snapshot["build"]),
        materials=snapshot["materials"],
        room=snapshot["room"],
    )


def as_built(panel: Panel) -> dict[str, Any]:
    """Return a panel's frozen part for the size it is built to.

    As it is where nothing else was measured. Raises `TakeoffError` for a size that the
    build can't be made in.
    """
    return at_size(
        panel.snapshot,
        width_ticks=panel.build_width_ticks,
        height_ticks=panel.build_height_ticks,
    )


def at_size(
    snapshot: dict[str, Any], *, width_ticks: int, height_ticks: int
) -> dict[str, Any]:
    """Take a frozen part off anew at a size, from its own build and materials alone."""
    quoted = snapshot["size"]
    if (width_ticks, height_ticks) == (quoted["width_ticks"], quoted["height_ticks"]):
        return snapshot
    build, stock = _build(snapshot), _stock(snapshot["materials"])
    kept = snapshot["conventions"]
    units, fraction = UnitSystem(kept["unit_system"]), int(kept["fraction"])
    size = NominalSize(width_ticks, height_ticks)
    takeoff = take_off(build, size, stock, units=units, fraction=fraction)
    paper = Paper(
        key="measured",
        title=f"{build.name}, as measured",
        units=units,
        fraction=fraction,
        width_mm=SHEET_MM,
        height_mm=130.0,
    )
    return snapshot | {
        "size": quoted | {"width_ticks": width_ticks, "height_ticks": height_ticks},
        "takeoff": frozen.to_json(takeoff),
        "drawings": snapshot["drawings"]
        | {"sheet": _drawn(build, takeoff, stock, paper)},
    }


def taken_off_at(
    snapshot: Mapping[str, Any],
    *,
    width_ticks: int,
    height_ticks: int,
    real_ticks: Mapping[str, int] | None = None,
) -> Takeoff:
    """Return what a panel of a size is made of; draws nothing.

    `real_ticks` are thicknesses as measured, by material. Raises `TakeoffError` for a
    size or a thickness that the build can't be made in.
    """
    quoted, stock = snapshot["size"], _stock(snapshot["materials"])
    real = {
        key: ticks
        for key, ticks in (real_ticks or {}).items()
        if key in stock and ticks != stock[key].thickness_ticks
    }
    if not real and (width_ticks, height_ticks) == (
        quoted["width_ticks"],
        quoted["height_ticks"],
    ):
        return frozen.takeoff_from_json(snapshot["takeoff"])
    for key, ticks in real.items():
        stock[key] = replace(stock[key], thickness_ticks=ticks)
    kept = snapshot["conventions"]
    return take_off(
        _build(snapshot),
        NominalSize(width_ticks, height_ticks),
        stock,
        units=UnitSystem(kept["unit_system"]),
        fraction=int(kept["fraction"]),
    )


def _build(snapshot: Mapping[str, Any]) -> Build:
    """Read the build back, in the panel's own fabric."""
    build = frozen.build_from_json(snapshot["build"])
    return replace(build, front_fabric=snapshot["fabric"] or build.front_fabric)


def _stock(materials: Mapping[str, Mapping[str, Any]]) -> dict[str, Stock]:
    """Read materials back; what was not known of one is left at its default."""
    names = [field.name for field in fields(Stock) if field.name != "key"]
    return {
        key: Stock(
            key=key,
            **{n: facts[n] for n in names if facts.get(n) is not None and n != "kind"},
            kind=StockKind(facts["kind"]),
        )
        for key, facts in materials.items()
    }


def _drawn(
    build: Build, takeoff: Takeoff, stock: Mapping[str, Stock], paper: Paper
) -> str:
    sheets = frozenset(k for k, s in stock.items() if s.kind is StockKind.SHEET)
    return panel_drawing(Drawn(takeoff, build.back_style, sheets), paper).svg()
