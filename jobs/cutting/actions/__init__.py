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
from jobs.cutting.actions.cloth import check_roll, finish_cloth
from jobs.cutting.actions.dropping import drop_plan, restore_plan, stop_plan
from jobs.cutting.actions.finishing import finish_plan, unfinish_plan
from jobs.cutting.actions.learning import (
    CannotLearnError,
    decide_yield,
    undo_decision,
)
from jobs.cutting.actions.rules import change_rules
from jobs.cutting.actions.spoiling import (
    TICKABLE,
    Afresh,
    Spoiled,
    begun_so_far,
    plan_around,
    tick_row,
    what_is_left,
)
from jobs.cutting.actions.working import begin, refuse, store_found, tell

__all__ = [
    "TICKABLE",
    "Afresh",
    "Ask",
    "CannotLearnError",
    "CannotPlanError",
    "PlanSettings",
    "Real",
    "Spoiled",
    "ask_anew",
    "ask_plan",
    "ask_plans",
    "begin",
    "begun_so_far",
    "change_rules",
    "check_roll",
    "check_stock",
    "decide_yield",
    "drop_plan",
    "finish_cloth",
    "finish_plan",
    "plan_anew",
    "plan_around",
    "refuse",
    "restore_plan",
    "stop_plan",
    "store_found",
    "tell",
    "tick_row",
    "undo_decision",
    "unfinish_plan",
    "what_is_left",
]
