"""What the pages and papers of site days show."""

from __future__ import annotations

from jobs.visits.reports.days import DayPage, day_page, sites_of
from jobs.visits.reports.ends import ended, line_words, loose_ends
from jobs.visits.reports.left import Left, left_of_job
from jobs.visits.reports.loads import LikePath, paths_of
from jobs.visits.reports.sheet import InstallSheet, install_sheet
from jobs.visits.reports.van import VanPage, day_likes, van_page

__all__ = [
    "DayPage",
    "InstallSheet",
    "Left",
    "LikePath",
    "VanPage",
    "day_likes",
    "day_page",
    "ended",
    "install_sheet",
    "left_of_job",
    "line_words",
    "loose_ends",
    "paths_of",
    "sites_of",
    "van_page",
]
