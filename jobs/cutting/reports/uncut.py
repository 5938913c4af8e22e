"""What can be cut now: panels whose wood, cloth or fill is uncut, by job and material."""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from jobs.board.models import Job, Panel
from jobs.cutting.adapter import WOOD, Alike, alike
from jobs.cutting.adapter.facts import facts_of
from jobs.cutting.models import CutPlanPanel
from jobs.gates.engine import Act
from jobs.gates.models import Gate
from jobs.gates.reports import Held, held_up
from shop.catalogue.models import Material, MaterialKind

CLOTH = MaterialKind.FABRIC


@dataclass(frozen=True, slots=True)
class Use:
    """One panel's parts of one material, and what stands in the way of cutting them."""

    panel: Panel
    material: Material
    pieces: int
    gates: tuple[Gate, ...]
    planned: bool
    alike: Alike

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
    facts: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        """What a form knows it by."""
        return str(self.material.pk)

    @property
    def is_wood(self) -> bool:
        """Whether a saw cuts it."""
        return self.material.kind in WOOD

    @property
    def is_cloth(self) -> bool:
        """Whether it comes off a roll."""
        return self.material.kind == MaterialKind.FABRIC

    @property
    def apart(self) -> tuple[tuple[Panel, ...], ...]:
        """The panels that are planned together: of cloth, those of one job."""
        if not self.is_cloth:
            return (self.ready,)
        jobs: dict[uuid.UUID, list[Panel]] = {}
        for panel in self.ready:
            jobs.setdefault(panel.job_id, []).append(panel)
        return tuple(map(tuple, jobs.values()))


def uncut_jobs() -> tuple[UncutJob, ...]:
    """Return open jobs with something still to be cut, the oldest first. Five queries."""
    uses = tuple(_uses(Panel.objects.live().uncovered()))
    jobs = {use.panel.job_id: use.panel.job for use in uses}
    return tuple(
        _job(job, [use for use in uses if use.panel.job_id == pk])
        for pk, job in jobs.items()
    )


def choices_of(jobs: Sequence[Job]) -> tuple[Choice, ...]:
    """Return the materials of some jobs that can be planned, or wait. Six queries."""
    panels = Panel.objects.live().uncovered().of_jobs(jobs)
    uses = [use for use in _uses(panels) if not use.planned]
    materials = {use.material.pk: use.material for use in uses}
    others = Material.objects.live().of_kind(*WOOD)
    known = tuple(others) if uses else ()
    return tuple(
        _choice(material, [use for use in uses if use.material.pk == pk], known)
        for pk, material in sorted(materials.items(), key=_order)
    )


def _order(each: tuple[uuid.UUID, Material]) -> int:
    """Wood first, then cloth, then fill; within each as the panels come."""
    return (*WOOD, MaterialKind.FABRIC, MaterialKind.FILL).index(each[1].kind)


def _uses(panels: Iterable[Panel]) -> Iterator[Use]:
    """Yield what each panel takes by material; what is cut already is left out."""
    rows = panels.with_group().select_related("job__client__details")  # type: ignore[attr-defined]
    groups = alike(rows.order_by("job__opened_at", "number"))
    every = [panel for group in groups for panel in group.panels]
    taken = CutPlanPanel.objects.taken(panel.pk for panel in every)
    cut = CutPlanPanel.objects.all_cut(panel.pk for panel in every)
    held = held_up({panel.job_id for panel in every})
    materials = _materials(groups)
    for group in groups:
        facts = {**group.cloths, **group.fills}
        for key, pieces in (group.stocks | facts).items():
            if material := materials.get(key):
                for panel in group.panels:
                    place = panel.pk, material.pk
                    if place not in cut and _is_left(panel, material):
                        gates = _gates(held, panel, material)
                        is_planned = place in taken
                        yield Use(panel, material, pieces, gates, is_planned, group)


def _is_left(panel: Panel, material: Material) -> bool:
    """Whether a panel still lacks its parts of a material, by what the bench says of it."""
    return not panel.is_wood_cut if material.kind in WOOD else True


def _gates(held: Held, panel: Panel, material: Material) -> tuple[Gate, ...]:
    act = Act.CUT_WOOD if material.kind in WOOD else Act.CUT_CLOTH
    return held.shut(panel.job_id, act, material=material.pk, panel=panel)


def _materials(groups: Iterable[Alike]) -> dict[str, Material]:
    ids = {
        key
        for group in groups
        for key in (*group.stocks, *group.cloths, *group.fills)
        if _is_id(key)
    }
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
    groups = {id(use.alike): use.alike for use in uses}.values()
    return Choice(
        material=material,
        ready=tuple(use.panel for use in ready),
        waiting=tuple(use.panel for use in uses if use.gates),
        gates=_once(gate for use in uses for gate in use.gates),
        pieces=sum(use.pieces for use in ready),
        alternatives=tuple(m for m in known if _instead(m, material)),
        facts=facts_of(material, groups) if material.kind == CLOTH else (),
    )


def _instead(other: Material, material: Material) -> bool:
    """Whether it can be cut instead: the kind, the thickness, a board's width the same."""
    names = ["kind", "thickness_ticks"]
    if material.kind == WOOD[1]:
        names.append("width_ticks")
    same = all(getattr(other, name) == getattr(material, name) for name in names)
    return same and other.pk != material.pk
