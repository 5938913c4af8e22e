"""The walk round a room: fields that save themselves, in the order of the walk."""

from shop.surveys.reports.walk.page import WalkPage, walk_page

__all__ = ["WalkPage", "walk_page"]
