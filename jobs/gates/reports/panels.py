"""What one panel has to do with gates: its cloth, and what holds it up."""

from __future__ import annotations

from dataclasses import dataclass

from jobs.board.models import Panel
from jobs.gates.adapter import cloth_and_fill
from jobs.gates.engine import CUTTING
from jobs.gates.models import Gate, GateKind, GateState


@dataclass(frozen=True, slots=True)
class PanelGates:
    """The cloth that was signed for, what the panel waits for, what was gone past."""

    cloth: Gate | None
    shut: tuple[Gate, ...]
    past: tuple[Gate, ...]


def panel_gates(panel: Panel) -> PanelGates:
    """Read the gates of a panel whose snapshot is there. One query."""
    gates = Gate.objects.of_job(panel.job).with_job().with_said().in_asking_order()
    own = [gate for gate in gates if _is_about(gate, panel)]
    signed = (
        gate
        for gate in own
        if gate.kind == GateKind.FABRIC and gate.state == GateState.PASSED
    )
    return PanelGates(
        cloth=next(signed, None),
        shut=tuple(gate for gate in own if gate.is_shut),
        past=tuple(gate for gate in own if gate.is_gone_past),
    )


def _is_about(gate: Gate, panel: Panel) -> bool:
    """Whether it is of all the job, of this panel's opening, its cloth or its fill."""
    part = panel.snapshot
    of = str(gate.material_id or "")
    if gate.kind == GateKind.FABRIC:
        return of == (part["fabric"] or "") or not of
    if of and of not in cloth_and_fill(part):
        return False
    return any(gate.concerns(act, panel=panel) for act in CUTTING)
