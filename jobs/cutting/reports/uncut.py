"""What can be cut now: panels whose wood is uncut, by job and material."""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from jobs.board.models import Job, Panel
from jobs.cutting.adapter import WOOD, Alike, alike
from jobs.cutting.models import CutPlanPanel
from jobs.gates.engine import Act
from jobs.gates.models import Gate
from jobs.gates.reports import Held, held_up
from shop.catalogue.models import Material


@dataclass(frozen=True, slots=True)
class Use:
    """One panel's parts of one material, and what stands in the way of cutting them."""

    panel: Panel
    material: Material
    pieces: int
    gates: tuple[Gate, ...]
    planned: bool

    @property
    def is_ready(self) -> bool:
        """Whether it can be planned now."""
        return not self.gates and not self.planned


@dataclass(frozen=True, slots=True)
class UncutMaterial:
    """What a job takes of one material: so many panels, so many pieces."""

    material: Material
    panels: int
    pieces: int


@dataclass(frozen=True, slots=True)
class UncutJob:
    """A job with panels to be cut: how many are ready, planned, or wait for something."""

    job: Job
    ready: int
    planned: int
    waiting: int
    materials: tuple[UncutMaterial, ...]
    gates: tuple[Gate, ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """One material of some jobs: what is ready, and what may be cut instead of it."""

    material: Material
    ready: tuple[Panel, ...]
    waiting: tuple[Panel, ...]
    gates: tuple[Gate, ...]
    pieces: int
    alternatives: tuple[Material, ...]

    @property
    def key(self) -> str:
        """What a form knows it by."""
        return str(self.material.pk)


def uncut_jobs() -> tuple[UncutJob, ...]:
    """Return open jobs with wood that is still to be cut, the oldest first. Five queries."""
    uses = tuple(_uses(Panel.objects.live().uncut()))
    jobs = {use.panel.job_id: use.panel.job for use in uses}
    return tuple(
        _job(job, [use for use in uses if use.panel.job_id == pk])
        for pk, job in jobs.items()
    )


def choices_of(jobs: Sequence[Job]) -> tuple[Choice, ...]:
    """Return the materials of some jobs that can be planned, or wait. Six queries."""
    panels = Panel.objects.live().uncut().of_jobs(jobs)
    uses = [use for use in _uses(panels) if not use.planned]
    materials = {use.material.pk: use.material for use in uses}
    others = Material.objects.live().of_kind(*WOOD)
    known = tuple(others) if uses else ()
    return tuple(
        _choice(material, [use for use in uses if use.material.pk == pk], known)
        for pk, material in materials.items()
    )


def _uses(panels: Iterable[Panel]) -> Iterator[Use]:
    """Yield each panel's wood by material; what is cut already is left out."""
    rows = panels.with_group().select_related("job__client__details")  # type: ignore[attr-defined]
    groups = alike(rows.order_by("job__opened_at", "number"))
    every = [panel for group in groups for panel in group.panels]
    taken = CutPlanPanel.objects.taken(panel.pk for panel in every)
    cut = CutPlanPanel.objects.all_cut(panel.pk for panel in every)
    held = held_up({panel.job_id for panel in every})
    materials = _materials(groups)
    for group in groups:
        for key, pieces in group.stocks.items():
            if material := materials.get(key):
                for panel in group.panels:
                    place = panel.pk, material.pk
                    if place not in cut:
                        gates = _gates(held, panel, material)
                        yield Use(panel, material, pieces, gates, place in taken)


def _gates(held: Held, panel: Panel, material: Material) -> tuple[Gate, ...]:
    return held.shut(panel.job_id, Act.CUT_WOOD, material=material.pk, panel=panel)


def _materials(groups: Iterable[Alike]) -> dict[str, Material]:
    ids = {key for group in groups for key in group.stocks if _is_id(key)}
    found = Material.objects.in_bulk([uuid.UUID(key) for key in sorted(ids)])
    return {str(pk): material for pk, material in found.items()}


def _is_id(key: str) -> bool:
    try:
        uuid.UUID(key)
    except ValueError:
        return False
    return True


def _job(job: Job, uses: Sequence[Use]) -> UncutJob:
    ready = {use.panel.pk for use in uses if use.is_ready}
    waiting = {use.panel.pk for use in uses if use.gates}
    planned = {use.panel.pk for use in uses if use.planned} - ready - waiting
    return UncutJob(
        job=job,
        ready=len(ready),
        planned=len(planned),
        waiting=len(waiting - ready),
        materials=tuple(_material(uses)),
        gates=_once(gate for use in uses for gate in use.gates),
    )


def _material(uses: Sequence[Use]) -> Iterator[UncutMaterial]:
    left = [use for use in uses if not use.planned]
    materials = {use.material.pk: use.material for use in left}
    for pk, material in materials.items():
        own = [use for use in left if use.material.pk == pk]
        yield UncutMaterial(material, len(own), sum(use.pieces for use in own))


def _once(gates: Iterable[Gate]) -> tuple[Gate, ...]:
    return tuple({gate.pk: gate for gate in gates}.values())


def _choice(
    material: Material, uses: Sequence[Use], known: Iterable[Material]
) -> Choice:
    ready = [use for use in uses if use.is_ready]
    return Choice(
        material=material,
        ready=tuple(use.panel for use in ready),
        waiting=tuple(use.panel for use in uses if use.gates),
        gates=_once(gate for use in uses for gate in use.gates),
        pieces=sum(use.pieces for use in ready),
        alternatives=tuple(m for m in known if _instead(m, material)),
    )


def _instead(other: Material, material: Material) -> bool:
    """Whether it can be cut instead: the kind, the thickness, a board's width the same."""
    names = ["kind", "thickness_ticks"]
    if material.kind == WOOD[1]:
        names.append("width_ticks")
    same = all(getattr(other, name) == getattr(material, name) for name in names)
    return same and other.pk != material.pk
