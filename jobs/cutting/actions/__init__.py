"""Verbs of cut plans."""

from jobs.cutting.actions.asking import (
    Ask,
    CannotPlanError,
    PlanSettings,
    ask_anew,
    ask_plan,
    ask_plans,
    plan_anew,
)
from jobs.cutting.actions.checking import Real, check_stock
from jobs.cutting.actions.dropping import drop_plan, restore_plan, stop_plan
from jobs.cutting.actions.finishing import finish_plan, unfinish_plan
from jobs.cutting.actions.rules import change_rules
from jobs.cutting.actions.working import begin, refuse, store_found, tell

__all__ = [
    "Ask",
    "CannotPlanError",
    "PlanSettings",
    "Real",
    "ask_anew",
    "ask_plan",
    "ask_plans",
    "begin",
    "change_rules",
    "check_stock",
    "drop_plan",
    "finish_plan",
    "plan_anew",
    "refuse",
    "restore_plan",
    "stop_plan",
    "store_found",
    "tell",
    "unfinish_plan",
]
