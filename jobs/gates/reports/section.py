"""What a job waits for, as its page shows it."""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from jobs.board.codes import runs_of
from jobs.board.models import Job, Panel
from jobs.board.snapshot import UnknownSnapshotError
from jobs.gates.adapter import Place, placed, wanted_of
from jobs.gates.engine import Wanted
from jobs.gates.models import Gate, GateEntry, GateKind, GateState
from shared.access import Right
from shared.audit.reports import LogLine
from shared.files.models import Attachment
from shared.money import show_money
from shop.people.models import Person

PILLS = {
    GateState.SHUT: "waiting",
    GateState.PASSED: "in hand",
    GateState.OVERRIDDEN: "gone past",
    GateState.DROPPED: "not needed",
}
LOOKS = {
    GateState.SHUT: "waiting",
    GateState.PASSED: "done",
    GateState.OVERRIDDEN: "late",
    GateState.DROPPED: "void",
}
ICONS = {
    GateState.SHUT: "lock",
    GateState.PASSED: "check",
    GateState.OVERRIDDEN: "caution",
    GateState.DROPPED: "minus",
}


PICTURED = "gate"
"""The kind of record that a swatch's picture belongs to."""


@dataclass(frozen=True, slots=True)
class Rights:
    """What a person may do about gates, and see of them."""

    decide: bool
    """Pass any, go past, drop."""
    measure: bool
    """Say that openings were measured again."""
    sees_money: bool

    def may_pass(self, gate: Gate) -> bool:
        """Whether the person may say that this is in hand, or is waited for again."""
        return self.decide or (self.measure and gate.kind == GateKind.MEASURE)

    def may_undo(self, entry: GateEntry) -> bool:
        """Whether the person may take back what was said last."""
        plain = {entry.was, entry.now} <= {GateState.SHUT, GateState.PASSED}
        return self.decide or (plain and self.may_pass(entry.gate))


def rights_of(person: Person) -> Rights:
    """Return what a person may do: whoever moves panels measures openings, too."""
    return Rights(
        decide=person.may(Right.QUOTE) or person.may(Right.KEEP_STORES),
        measure=person.may(Right.MOVE_PANELS),
        sees_money=person.may(Right.SEE_MONEY),
    )


@dataclass(frozen=True, slots=True)
class GateRow:
    """One gate: what, why, how it stands, and what this person may do about it."""

    gate: Gate
    why: str
    amount: str
    panels: str
    pill: str
    look: str
    icon: str
    reference: str
    log: tuple[LogLine, ...]
    photos: tuple[Attachment, ...]
    undo: uuid.UUID | None
    may_pass: bool
    may_decide: bool

    @property
    def is_to_come(self) -> bool:
        """Whether it is not in hand yet, gone past or not."""
        return self.gate.is_shut or self.gate.is_gone_past


@dataclass(frozen=True, slots=True)
class JobGates:
    """All that a job waits for, what was gone past, and what is not set up yet."""

    rows: tuple[GateRow, ...]
    missing: int

    @property
    def shut(self) -> int:
        """How many are still waited for."""
        return sum(row.gate.is_shut for row in self.rows)

    @property
    def waiting(self) -> tuple[GateRow, ...]:
        """What is still to come, though somebody may have gone past it."""
        return tuple(row for row in self.rows if row.is_to_come)

    @property
    def settled(self) -> tuple[GateRow, ...]:
        """What is in hand, or not needed."""
        return tuple(row for row in self.rows if not row.is_to_come)


def job_gates(job: Job, person: Person) -> JobGates:
    """Read a job's gates, the shut ones first. Six queries."""
    rights = rights_of(person)
    gates = Gate.objects.of_job(job).with_job().with_said().with_history()
    snapshot: Mapping[str, Any] = job.revision.snapshot
    asked = placed(_wanted(snapshot))
    rows = tuple(gates.in_asking_order())
    around = _Around(
        asked=asked,
        codes=_codes(job),
        photos=_photos(rows),
        amount=_deposit(snapshot) if rights.sees_money else "",
        rights=rights,
    )
    there = {(gate.kind, gate.material_id) for gate in rows}
    return JobGates(
        rows=tuple(
            _row(gate, around) for gate in sorted(rows, key=lambda g: not g.is_shut)
        ),
        missing=len(asked.keys() - there),
    )


@dataclass(frozen=True, slots=True)
class _Around:
    """What the rows of a job share."""

    asked: Mapping[Place, Wanted]
    codes: Mapping[int, str]
    photos: Mapping[uuid.UUID, tuple[Attachment, ...]]
    amount: str
    rights: Rights


def _wanted(snapshot: Mapping[str, Any]) -> tuple[Wanted, ...]:
    try:
        return wanted_of(snapshot)
    except UnknownSnapshotError:  # a page of an old job says what it can
        return ()


def _codes(job: Job) -> dict[int, str]:
    """Return the codes of a job's panels by number. One query."""
    panels = Panel.objects.of_job(job).order_by("number")
    return dict(panels.values_list("number", "code"))


def _photos(gates: Iterable[Gate]) -> dict[uuid.UUID, tuple[Attachment, ...]]:
    """Return the pictures of gates. One query."""
    found: dict[uuid.UUID, tuple[Attachment, ...]] = {}
    ids = [gate.pk for gate in gates]
    for photo in Attachment.objects.of_any([PICTURED], ids).standing():
        found[photo.record_id] = (*found.get(photo.record_id, ()), photo)
    return found


def _deposit(snapshot: Mapping[str, Any]) -> str:
    """Print the deposit that was agreed; nothing where there is none."""
    amount, shop = snapshot["price"].get("deposit"), snapshot["shop"]
    if not amount:
        return ""
    return show_money(Decimal(amount), currency=shop["currency"], locale=shop["locale"])


def _row(gate: Gate, around: _Around) -> GateRow:
    rights = around.rights
    asked = around.asked.get((gate.kind, gate.material_id))
    entries = tuple(gate.entries.all())
    last = entries[0] if entries else None
    panels = asked.panels if asked else ()
    hidden = gate.money_aside and not rights.sees_money
    return GateRow(
        gate=gate,
        why=asked.why if asked else "",
        amount=around.amount if gate.money_aside else "",
        panels=runs_of(around.codes[n] for n in panels if n in around.codes),
        pill=PILLS[GateState(gate.state)],
        look=LOOKS[GateState(gate.state)],
        icon=ICONS[GateState(gate.state)],
        reference="" if hidden else gate.reference,
        log=tuple(_said(entry) for entry in entries),
        photos=around.photos.get(gate.pk, ()),
        undo=last.pk if last and rights.may_undo(last) else None,
        may_pass=rights.may_pass(gate),
        may_decide=rights.decide,
    )


def _said(entry: GateEntry) -> LogLine:
    words = entry.get_now_display()
    words = words[:1].upper() + words[1:]
    if entry.kept.get("undoes"):
        return LogLine(f"{words} again: taken back.", str(entry.by), entry.at)
    return LogLine(f"{words}.", str(entry.by), entry.at, entry.note)
