"""Least stock for what is to be cut: bars and sheets, with a lower bound (pure).

Lengths are ticks, prices whole minor units. ``plan_bars`` and ``plan_sheets`` are the
entries, ``compare_halvings`` what halving a sheet first costs; they are deterministic, and
take a limit of work and a way to stop instead of a clock. ``saw_sheets`` and ``saw_bars``
list a plan's settings at the saw.
"""

from __future__ import annotations

from shared.nesting.bars import plan_bars
from shared.nesting.effort import DEFAULT_WORK, Effort, Progress
from shared.nesting.errors import NestingError
from shared.nesting.halvings import HalvingChoice, compare_halvings
from shared.nesting.kept import bar_plan_from_json, plan_to_json, sheet_plan_from_json
from shared.nesting.model import (
    Bar,
    BarJob,
    BarPart,
    Halving,
    Rect,
    Sheet,
    SheetJob,
)
from shared.nesting.pairs import Faces, Pair
from shared.nesting.result import (
    ENGINE_VERSION,
    BarPattern,
    BarPlan,
    Kept,
    KeptBar,
    Layout,
    Offcut,
    Piece,
    Pieces,
    Plate,
    SheetPlan,
    Strip,
    Verdict,
)
from shared.nesting.sawing import Place, SawRow, Step, saw_bars, saw_sheets
from shared.nesting.sheets import plan_sheets

__all__ = [
    "DEFAULT_WORK",
    "ENGINE_VERSION",
    "Bar",
    "BarJob",
    "BarPart",
    "BarPattern",
    "BarPlan",
    "Effort",
    "Faces",
    "Halving",
    "HalvingChoice",
    "Kept",
    "KeptBar",
    "Layout",
    "NestingError",
    "Offcut",
    "Pair",
    "Piece",
    "Pieces",
    "Place",
    "Plate",
    "Progress",
    "Rect",
    "SawRow",
    "Sheet",
    "SheetJob",
    "SheetPlan",
    "Step",
    "Strip",
    "Verdict",
    "bar_plan_from_json",
    "compare_halvings",
    "plan_bars",
    "plan_sheets",
    "plan_to_json",
    "saw_bars",
    "saw_sheets",
    "sheet_plan_from_json",
]
