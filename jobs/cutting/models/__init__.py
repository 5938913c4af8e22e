"""Cut plans: what is cut from what, how far the saw is, what was lost on the way."""

from jobs.cutting.models.plans import CutKind, CutPlan, CutPlanPanel, CutState
from jobs.cutting.models.rules import Halving, SawRules
from jobs.cutting.models.saw import CutTick, LostPart, PlanPiece
from jobs.cutting.models.yields import YieldFinding

__all__ = [
    "CutKind",
    "CutPlan",
    "CutPlanPanel",
    "CutState",
    "CutTick",
    "Halving",
    "LostPart",
    "PlanPiece",
    "SawRules",
    "YieldFinding",
]
