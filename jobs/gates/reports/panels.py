"""What one panel has to do with gates: its cloth, and what holds it up."""

from __future__ import annotations

import uuid
from contextlib import suppress
from dataclasses import dataclass

from jobs.board.models import Panel
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
    cloth = _cloth(panel)
    gates = Gate.objects.of_job(panel.job).with_job().with_said().in_asking_order()
    own = [gate for gate in gates if _is_about(gate, panel, cloth)]
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


def _cloth(panel: Panel) -> uuid.UUID | None:
    with suppress(ValueError):
        return uuid.UUID(panel.snapshot["fabric"] or "")
    return None


def _is_about(gate: Gate, panel: Panel, cloth: uuid.UUID | None) -> bool:
    """Whether it is of this panel's cloth, of all the job, or of its opening."""
    if gate.kind == GateKind.FABRIC:
        return gate.material_id == cloth
    material = gate.material_id or cloth
    return any(gate.concerns(a, material=material, panel=panel) for a in CUTTING)
