"""Jobs whose cloth and fill are in the stores, and cut plans of them."""

from __future__ import annotations

import itertools
from decimal import Decimal
from typing import Any

from jobs.board.models import Job
from jobs.cutting.actions import PlanSettings, ask_plan
from jobs.cutting.models import CutPlan
from jobs.cutting.reports import saw_rules
from shop.catalogue.models import Material
from tests.factories.catalogue import make_fabric, make_fill, mm
from tests.factories.clients import make_client
from tests.factories.cutting import made, panels_of
from tests.factories.jobs import AT, full_snapshot, make_job, make_revision

_numbers = itertools.count(1)
WALL = (("wall-panel", 600, 1200, 3),)
NAMED = frozenset({"fabric", "front_fabric", "back_fabric", "fill", "material"})


def make_cloth(**fields: Any) -> Material:
    """Cloth as the panels are quoted with: 1680 mm wide, 12 mm of selvedge."""
    number = next(_numbers)
    usual = {
        "code": f"cloth-{number}",
        "name": f"Cloth {number}",
        "width_ticks": mm(1680),
        "selvedge_ticks": mm(12),
        "pack_price": Decimal("24.00"),
        "pack_quantity": 1,
        "colour": "moss",
        "fire_papers": "certificate 7",
    }
    return make_fabric(**usual | fields)


def make_wool(**fields: Any) -> Material:
    """Fill as the panels are quoted with: 600 × 1200 × 75 mm."""
    number = next(_numbers)
    usual = {
        "code": f"wool-{number}",
        "name": f"Wool {number}",
        "thickness_ticks": mm(75),
        "width_ticks": mm(600),
        "length_ticks": mm(1200),
    }
    return make_fill(**usual | fields)


def make_cloth_job(
    *,
    by: Any,
    cloth: Material | None = None,
    wool: Material | None = None,
    **made_of: Any,
) -> Job:
    """Return a job whose panels are covered with this cloth and filled with this fill."""
    client = make_client()
    snapshot = full_snapshot(client_id=client.pk, **{"kinds": WALL} | made_of)
    keys = {}
    if cloth:
        keys["front-fabric"] = str(cloth.pk)
    if wool:
        keys["wool"] = str(wool.pk)
    snapshot = _renamed(snapshot, keys)
    if cloth:
        facts = snapshot["materials"][str(cloth.pk)]
        facts["directional"] = cloth.directional
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
    return keys[value] if field in NAMED and value in keys else value


def make_cloth_ask(*, job: Job, cloth: Material, by: Any, **settings: Any) -> CutPlan:
    """Ask for a plan of a job's pieces of one cloth or fill."""
    usual = PlanSettings.of(saw_rules(), **settings)
    return ask_plan(panels_of(job), cloth, usual, by=by, at=AT)


def make_cloth_plan(
    *, by: Any, cloth: Material | None = None, kinds: Any = WALL, **settings: Any
) -> CutPlan:
    """Return a plan of cloth that was made, of a job of its own."""
    cloth = cloth or make_cloth()
    job = make_cloth_job(by=by, cloth=cloth, kinds=kinds)
    return made(make_cloth_ask(job=job, cloth=cloth, by=by, **settings))
