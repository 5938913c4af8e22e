"""What pages and papers of cut plans show."""

from jobs.cutting.reports.drafts import WholeSheets, whole_sheets
from jobs.cutting.reports.learning import Learnt, learnt
from jobs.cutting.reports.page import KeptLine, PlanPage, plan_page
from jobs.cutting.reports.parts import part_lines
from jobs.cutting.reports.rules import saw_rules
from jobs.cutting.reports.saw import Line, Stage, saw_stages
from jobs.cutting.reports.spoiled import Follows, follows_of
from jobs.cutting.reports.ticks import SawPage, saw_page, sheets_of
from jobs.cutting.reports.uncut import (
    Choice,
    UncutJob,
    choices_of,
    uncut_jobs,
)
from jobs.cutting.reports.unfinished import unfinished_before, unfinished_of
from jobs.cutting.reports.words import notation

__all__ = [
    "Choice",
    "Follows",
    "KeptLine",
    "Learnt",
    "Line",
    "PlanPage",
    "SawPage",
    "Stage",
    "UncutJob",
    "WholeSheets",
    "choices_of",
    "follows_of",
    "learnt",
    "notation",
    "part_lines",
    "plan_page",
    "saw_page",
    "saw_rules",
    "saw_stages",
    "sheets_of",
    "uncut_jobs",
    "unfinished_before",
    "unfinished_of",
    "whole_sheets",
]
