"""Which shut gates hold an act up, and which were gone past: for buying and cutting."""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from jobs.board.models import Job, Panel
from jobs.gates.engine import Act
from jobs.gates.models import Gate

JobOrId = Job | uuid.UUID


@dataclass(frozen=True, slots=True)
class Held:
    """What several jobs wait for, and what they went past; asks no more queries."""

    gates: Mapping[uuid.UUID, tuple[Gate, ...]]

    def shut(
        self,
        job: JobOrId,
        act: Act,
        *,
        material: uuid.UUID | None = None,
        panel: Panel | None = None,
    ) -> tuple[Gate, ...]:
        """Return the gates that hold an act up: of a material, of a panel, or of any."""
        return tuple(
            gate
            for gate in self.gates.get(_id(job), ())
            if gate.is_shut and gate.concerns(act, material=material, panel=panel)
        )

    def gone_past(
        self,
        job: JobOrId,
        act: Act,
        *,
        material: uuid.UUID | None = None,
        panel: Panel | None = None,
    ) -> tuple[Gate, ...]:
        """Return the gates that would hold an act up, had nobody gone past them."""
        return tuple(
            gate
            for gate in self.gates.get(_id(job), ())
            if gate.is_gone_past and gate.concerns(act, material=material, panel=panel)
        )


def held_up(jobs: Iterable[JobOrId]) -> Held:
    """Read what jobs wait for. One query, however many jobs."""
    found: dict[uuid.UUID, list[Gate]] = {_id(job): [] for job in jobs}
    gates = Gate.objects.of_jobs(found).shut_or_gone_past()
    for gate in gates.with_job().with_said().in_asking_order():
        found[gate.job_id].append(gate)
    return Held({job: tuple(each) for job, each in found.items()})


def holding(
    jobs: Iterable[JobOrId], act: Act, *, material: uuid.UUID | None = None
) -> dict[uuid.UUID, tuple[Gate, ...]]:
    """Return the shut gates that hold an act up, by job; each job asked for is there.

    With a material, only what holds up that material. One query.
    """
    held = held_up(jobs)
    return {job: held.shut(job, act, material=material) for job in held.gates}


def lots_of(jobs: Iterable[JobOrId]) -> dict[tuple[uuid.UUID, uuid.UUID], str]:
    """Return the dye lots that were signed for, by job and material. One query."""
    gates = Gate.objects.of_jobs(_id(job) for job in jobs).signed()
    return {
        (job, material): lot
        for job, material, lot in gates.values_list("job", "material", "dye_lot")
    }


def _id(job: JobOrId) -> uuid.UUID:
    return job.pk if isinstance(job, Job) else job
