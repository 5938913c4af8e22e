"""What is waited for: what it holds up, and what pages show of it."""

from jobs.gates.reports.holding import Held, held_up, holding, lots_of
from jobs.gates.reports.panels import PanelGates, panel_gates
from jobs.gates.reports.paper import SignOff, covering, sign_off
from jobs.gates.reports.section import (
    PICTURED,
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
    waits_of,
    words_of,
)

__all__ = [
    "PICTURED",
    "GateRow",
    "Held",
    "JobGates",
    "PanelGates",
    "Rights",
    "SignOff",
    "Waiting",
    "covering",
    "gates_to_list",
    "held_up",
    "holding",
    "job_gates",
    "lots_of",
    "panel_gates",
    "rights_of",
    "sign_off",
    "waiting_jobs",
    "waits_of",
    "words_of",
]
