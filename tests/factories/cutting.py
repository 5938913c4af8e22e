"""Jobs whose wood is in the stores, and cut plans of them."""

from __future__ import annotations

import itertools
import uuid
from typing import Any

from django.utils import timezone

from jobs.board.models import Job, Panel
from jobs.cutting.actions import PlanSettings, ask_plan
from jobs.cutting.models import CutPlan
from jobs.cutting.reports import saw_rules
from jobs.cutting.solving import solve
from shop.catalogue.models import Material
from tests.factories.catalogue import make_board, make_sheet, mm
from tests.factories.clients import make_client
from tests.factories.jobs import AT, full_snapshot, make_job, make_revision

_numbers = itertools.count(1)
WALL = (("wall-panel", 600, 1200, 2),)
CORNER = (("corner-panel", 400, 1200, 2),)


def make_ply(**fields: Any) -> Material:
    """Plywood as the wall panels are quoted with: 2440 × 1220 × 15 mm, 48.00."""
    number = next(_numbers)
    usual = {"code": f"ply-{number}", "name": f"Ply {number}"}
    return make_sheet(**usual | {"thickness_ticks": mm(15)} | fields)


def make_batten(**fields: Any) -> Material:
    """A batten as the corner panels are quoted with: 20 × 44 × 2400 mm."""
    number = next(_numbers)
    usual = {"code": f"batten-{number}", "name": f"Batten {number}"}
    return make_board(**usual | {"thickness_ticks": mm(20)} | fields)


def make_wood_job(
    *, by: Any, ply: Material, batten: Material | None = None, kinds: Any = WALL
) -> Job:
    """Return a job whose panels are cut from these materials."""
    client = make_client()
    made = full_snapshot(client_id=client.pk, kinds=kinds)
    keys = {"frame-ply": str(ply.pk)}
    if batten:
        keys["batten"] = str(batten.pk)
    made["builds"] = {
        name: build | {"key": str(uuid.uuid5(uuid.NAMESPACE_OID, name))}
        for name, build in made["builds"].items()
    }
    snapshot = _renamed(made, keys)
    return make_job(
        by=by, revision=make_revision(client=client, by=by, snapshot=snapshot)
    )


def _renamed(value: Any, keys: dict[str, str], field: str = "") -> Any:
    """Put ids of materials where a snapshot names them by a preset's word."""
    if isinstance(value, dict):
        own = keys if field == "materials" else {}
        return {
            own.get(name, name): _renamed(each, keys, name)
            for name, each in value.items()
        }
    if isinstance(value, list):
        return [_renamed(each, keys, field) for each in value]
    named = field in {"stock", "frame_stock"} and value in keys
    return keys[value] if named else value


def panels_of(*jobs: Job) -> tuple[uuid.UUID, ...]:
    """Return the ids of jobs' panels."""
    return tuple(Panel.objects.of_jobs(jobs).values_list("pk", flat=True))


def make_ask(*, job: Job, ply: Material, by: Any, **settings: Any) -> CutPlan:
    """Ask for a plan of a job's parts of one material."""
    usual = PlanSettings.of(saw_rules(), **settings)
    return ask_plan(panels_of(job), ply, usual, by=by, at=AT)


def made(plan: CutPlan) -> CutPlan:
    """Let the worker make a plan, and read it again."""
    solve(plan.pk, now=timezone.now)
    found: CutPlan = CutPlan.objects.for_page().get(pk=plan.pk)
    return found


def make_plan(
    *, by: Any, kinds: Any = WALL, ply: Any = None, **settings: Any
) -> CutPlan:
    """Return a plan that was made, of a job of its own."""
    ply = ply or make_ply()
    job = make_wood_job(ply=ply, kinds=kinds, by=by)
    return made(make_ask(job=job, ply=ply, by=by, **settings))
