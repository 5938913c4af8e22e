"""What pages and papers of cut plans show."""

from jobs.cutting.reports.page import KeptLine, PlanPage, plan_page
from jobs.cutting.reports.rules import saw_rules
from jobs.cutting.reports.saw import Line, Stage, saw_stages
from jobs.cutting.reports.uncut import (
    Choice,
    UncutJob,
    choices_of,
    uncut_jobs,
)

__all__ = [
    "Choice",
    "KeptLine",
    "Line",
    "PlanPage",
    "Stage",
    "UncutJob",
    "choices_of",
    "plan_page",
    "saw_rules",
    "saw_stages",
    "uncut_jobs",
]
