"""Panels for the drawing tests: the five builds that come with it, and odder ones."""

from __future__ import annotations

from dataclasses import replace

from quotes.specs.engine import take_off
from quotes.specs.engine.drawing import Panel, Paper
from quotes.specs.engine.model import (
    Brace,
    Edge,
    Face,
    Joint,
    Lies,
    NominalSize,
    Position,
    Runs,
    StockKind,
)
from quotes.specs.engine.preset_stock import preset_stock
from quotes.specs.engine.presets import five_builds
from shared.length import UnitSystem, from_mm

METRIC, IMPERIAL = UnitSystem.METRIC, UnitSystem.IMPERIAL


def roomy(stock):
    """Take wood and cloth as long and wide as the oddest panel asks for."""
    if stock.kind is StockKind.FABRIC:
        return replace(stock, width_ticks=from_mm(9000))
    return replace(stock, length_ticks=from_mm(9000)) if stock.is_wood else stock


MATERIALS = {u: {s.key: roomy(s) for s in preset_stock(u)} for u in UnitSystem}
BUILDS = {u: {b.key: b for b in five_builds(u)} for u in UnitSystem}
KEYS = sorted(BUILDS[METRIC])

THIN_WOOL = replace(
    MATERIALS[METRIC]["wool"], key="thin-wool", thickness_ticks=from_mm(50)
)
MATERIALS[METRIC]["thin-wool"] = THIN_WOOL
DEEP_BOARD = replace(
    MATERIALS[METRIC]["foot-board"],
    key="deep-board",
    thickness_ticks=from_mm(15),
    width_ticks=from_mm(140),
)
MATERIALS[METRIC]["deep-board"] = DEEP_BOARD
UPRIGHT = Brace(
    name="upright",
    runs=Runs.UPRIGHT,
    lies=Lies.FLAT,
    strip_ticks=from_mm(60),
    from_face=Face.FRONT,
)
LOW_CLEAT = Brace(
    name="lower cleat brace",
    runs=Runs.ACROSS,
    lies=Lies.FLAT,
    strip_ticks=from_mm(100),
    position=Position.TIGHT_BOTTOM,
    edge=Edge.BEVELLED,
    bevel_deg=30.0,
)
WALL = BUILDS[METRIC]["wall-panel"]
ODD = {
    "lined": replace(
        WALL,
        front_lining="back-cloth",
        fill="thin-wool",
        braces=(WALL.braces[0], UPRIGHT),
    ),
    "two-cleats": replace(WALL, braces=(WALL.braces[0], LOW_CLEAT)),
    "mitred": replace(BUILDS[METRIC]["hung-panel"], joint=Joint.MITRE),
    "open-corner": replace(
        BUILDS[METRIC]["corner-panel"], fill=None, front_fabric=None
    ),
    "solid": replace(WALL, frame_stock="deep-board"),
    "hollow": replace(BUILDS[METRIC]["screen"], fill=None),
}


def panel(build, width_ticks, height_ticks, units=METRIC):
    """Take a panel off for real; raises TakeoffError for a size it cannot have."""
    materials = MATERIALS[units]
    taken = take_off(
        build, NominalSize(width_ticks, height_ticks), materials, units=units
    )
    sheets = {key for key, s in materials.items() if s.kind is StockKind.SHEET}
    return Panel(taken, build.back_style, frozenset(sheets))


def metric_panel(key, width_mm, height_mm):
    build = BUILDS[METRIC].get(key) or ODD[key]
    return panel(build, from_mm(width_mm), from_mm(height_mm))


def paper(units=METRIC, key="panel", title="Panel P-01", **size):
    return Paper(key, title, units, **size)
