"""Jobs, their physical panels, and what happened to them."""

from jobs.board.models.jobs import Job, JobState
from jobs.board.models.ledgers import Mark, MarkChange, StageMove
from jobs.board.models.panels import Panel
from jobs.board.models.stages import STAGES, Stage

__all__ = [
    "STAGES",
    "Job",
    "JobState",
    "Mark",
    "MarkChange",
    "Panel",
    "Stage",
    "StageMove",
]
