"""What all open jobs wait for: the list, and the lines of next up."""

from __future__ import annotations

import datetime as dt
import uuid
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from jobs.board.models import Job
from jobs.gates.models import Gate, GateKind, GateQuerySet

WORDS = {
    GateKind.DEPOSIT: "the deposit",
    GateKind.FABRIC: "a signed fabric",
    GateKind.MEASURE: "a second measure",
    GateKind.LANDLORD: "the landlord",
    GateKind.FIRE: "fire papers",
}
MANY = {
    GateKind.FABRIC: "{} signed fabrics",
    GateKind.FIRE: "fire papers of {} materials",
}


@dataclass(frozen=True, slots=True)
class Waiting:
    """One open job, what it waits for in words, what to do first, since when."""

    job: Job
    words: str
    next_act: str
    since: dt.datetime


def waiting_jobs() -> tuple[Waiting, ...]:
    """Return open jobs that wait for something, the oldest first. One query."""
    gates = Gate.objects.of_open_jobs().shut().with_job().with_said()
    by_job: dict[Job, list[Gate]] = {}
    for gate in gates.in_asking_order():
        by_job.setdefault(gate.job, []).append(gate)
    found = (_waiting(job, each) for job, each in by_job.items())
    return tuple(sorted(found, key=lambda each: each.job.opened_at))


def waits_of(jobs: Iterable[uuid.UUID]) -> dict[uuid.UUID, str]:
    """Say what jobs wait for, by id; those that wait for nothing are left out. One query."""
    rows = Gate.objects.of_jobs(jobs).shut().order_by().values_list("job", "kind")
    found: dict[uuid.UUID, list[str]] = {}
    for job, kind in rows:
        found.setdefault(job, []).append(kind)
    return {job: words_of(kinds) for job, kinds in found.items()}


def _waiting(job: Job, gates: list[Gate]) -> Waiting:
    return Waiting(
        job,
        words_of(gate.kind for gate in gates),
        gates[0].next_act,
        min(gate.created_at for gate in gates),
    )


def words_of(kinds: Iterable[str]) -> str:
    """Say what is waited for in one phrase, each kind once, in the order of asking."""
    counts = Counter(GateKind(kind) for kind in kinds)
    parts = list(_parts(counts))
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} and {parts[-1]}"


def _parts(counts: Counter[GateKind]) -> Iterator[str]:
    for kind in GateKind:
        if counts[kind]:
            several = MANY.get(kind, "") if counts[kind] > 1 else ""
            yield several.format(counts[kind]) if several else WORDS[kind]


def gates_to_list(words: str, *, kind: str) -> GateQuerySet:
    """Return what the page lists: shut or gone past, of open jobs, by kind."""
    gates = Gate.objects.of_open_jobs().shut_or_gone_past().of_kind(kind)
    return gates.matching(words).with_job().with_said().in_asking_order()
