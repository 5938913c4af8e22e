"""Least stock for what is to be cut: bars and sheets, with a lower bound (pure).

Lengths are ticks, prices whole minor units. ``plan_bars`` and ``plan_sheets`` are the
entries; both are deterministic, and take a limit of work and a way to stop instead of
a clock.
"""

from __future__ import annotations

from shared.nesting.bars import plan_bars
from shared.nesting.effort import DEFAULT_WORK, Effort, Progress
from shared.nesting.errors import NestingError
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
    Layout,
    Offcut,
    Piece,
    Pieces,
    Plate,
    SheetPlan,
    Strip,
    Verdict,
)
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
    "Layout",
    "NestingError",
    "Offcut",
    "Pair",
    "Piece",
    "Pieces",
    "Plate",
    "Progress",
    "Rect",
    "Sheet",
    "SheetJob",
    "SheetPlan",
    "Strip",
    "Verdict",
    "plan_bars",
    "plan_sheets",
]
