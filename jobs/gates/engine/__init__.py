"""What a job waits for, and what each thing holds up."""

from jobs.gates.engine.acts import (
    BUYING,
    CUTTING,
    HOLDS,
    Act,
    Hold,
    Wait,
    buying_of,
    cutting_of,
    why_held,
)
from jobs.gates.engine.asking import NEEDS_PROOF, PROOFS, next_act
from jobs.gates.engine.wanted import (
    Agreed,
    Cloth,
    Reveal,
    Unpapered,
    Wanted,
    wanted,
)

__all__ = [
    "BUYING",
    "CUTTING",
    "HOLDS",
    "NEEDS_PROOF",
    "PROOFS",
    "Act",
    "Agreed",
    "Cloth",
    "Hold",
    "Reveal",
    "Unpapered",
    "Wait",
    "Wanted",
    "buying_of",
    "cutting_of",
    "next_act",
    "wanted",
    "why_held",
]
