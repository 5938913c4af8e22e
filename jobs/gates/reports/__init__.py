"""What is waited for: what it holds up, and what pages show of it."""

from jobs.gates.reports.holding import Held, held_up, holding, lots_of
from jobs.gates.reports.paper import SignOff, sign_off
from jobs.gates.reports.section import (
    GateRow,
    JobGates,
    Rights,
    job_gates,
    rights_of,
)
from jobs.gates.reports.waiting import (
    Waiting,
    gates_to_list,
    waiting_jobs,
    words_of,
)

__all__ = [
    "GateRow",
    "Held",
    "JobGates",
    "Rights",
    "SignOff",
    "Waiting",
    "gates_to_list",
    "held_up",
    "holding",
    "job_gates",
    "lots_of",
    "rights_of",
    "sign_off",
    "waiting_jobs",
    "words_of",
]
