"""What is waited for: what it holds up, and what pages show of it."""

from jobs.gates.reports.holding import Held, held_up, holding, lots_of

__all__ = [
    "Held",
    "held_up",
    "holding",
    "lots_of",
]
