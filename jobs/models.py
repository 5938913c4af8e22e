"""What Django finds of this app's features."""

from jobs.board.models import Job, MarkChange, Panel, StageMove
from jobs.visits.models import LooseEnd, SiteDay, SiteDayPanel, VanTick

__all__ = [
    "Job",
    "LooseEnd",
    "MarkChange",
    "Panel",
    "SiteDay",
    "SiteDayPanel",
    "StageMove",
    "VanTick",
]
