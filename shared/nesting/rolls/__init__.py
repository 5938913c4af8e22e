"""Fabric on the roll: the cheapest rows that give all pieces, with a lower bound (pure).

Lengths are ticks, prices whole minor units. ``plan_rolls`` is the entry.
"""

from __future__ import annotations

from shared.nesting.rolls.kept import roll_plan_from_json, roll_plan_to_json
from shared.nesting.rolls.model import (
    A_METRE,
    Lay,
    Laying,
    Roll,
    RollJob,
    RollPart,
    part_of,
)
from shared.nesting.rolls.plan import ENGINE_VERSION, plan_rolls
from shared.nesting.rolls.result import (
    Cut,
    Placed,
    RollPlan,
    RollUse,
    Row,
    Scrap,
    Way,
)

__all__ = [
    "A_METRE",
    "ENGINE_VERSION",
    "Cut",
    "Lay",
    "Laying",
    "Placed",
    "Roll",
    "RollJob",
    "RollPart",
    "RollPlan",
    "RollUse",
    "Row",
    "Scrap",
    "Way",
    "part_of",
    "plan_rolls",
    "roll_plan_from_json",
    "roll_plan_to_json",
]
