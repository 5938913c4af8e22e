"""The walk round a room: fields that save themselves, in the order of the walk."""

from shop.surveys.reports.walk.blanks import Blanks, BlankWalk, blank_walk, blanks
from shop.surveys.reports.walk.leave import LeavePage, leave_brief, leave_page
from shop.surveys.reports.walk.page import WalkPage, walk_page

__all__ = [
    "BlankWalk",
    "Blanks",
    "LeavePage",
    "WalkPage",
    "blank_walk",
    "blanks",
    "leave_brief",
    "leave_page",
    "walk_page",
]
