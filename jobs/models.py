"""What Django finds of this app's features."""

from jobs.board.models import Job, MarkChange, Panel, StageMove
from jobs.buying.models import (
    Delivery,
    DeliveryLine,
    JobNeed,
    JobUse,
    Order,
    OrderLine,
)
from jobs.cutting.models import (
    CutPlan,
    CutPlanPanel,
    CutTick,
    LostPart,
    PlanPiece,
    SawRules,
    YieldFinding,
)
from jobs.gates.models import Gate, GateEntry
from jobs.visits.models import LooseEnd, SiteDay, SiteDayPanel, VanTick

__all__ = [
    "CutPlan",
    "CutPlanPanel",
    "CutTick",
    "Delivery",
    "DeliveryLine",
    "Gate",
    "GateEntry",
    "Job",
    "JobNeed",
    "JobUse",
    "LooseEnd",
    "LostPart",
    "MarkChange",
    "Order",
    "OrderLine",
    "Panel",
    "PlanPiece",
    "SawRules",
    "SiteDay",
    "SiteDayPanel",
    "StageMove",
    "VanTick",
    "YieldFinding",
]
