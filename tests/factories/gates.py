"""Jobs that wait for something, from snapshots small enough to read."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Sequence
from typing import Any

from jobs.board.models import Job
from jobs.gates.actions import set_up_gates
from jobs.gates.models import Gate
from shop.catalogue.models import Material
from tests.factories.catalogue import make_fabric
from tests.factories.clients import make_client
from tests.factories.jobs import AT, make_job, make_revision, tiny_snapshot
from tests.factories.people import make_person


def gated_snapshot(
    *,
    client_id: Any,
    cloths: Sequence[tuple[Material, int]] = (),
    reveals: int = 0,
    fill: Material | None = None,
    deposit: str = "",
    **site: Any,
) -> dict[str, Any]:
    """Return a schema 1 snapshot: so many wall panels of each cloth, then reveals.

    `site` has the facts of the one place, such as tenure and setting.
    """
    made = tiny_snapshot(client_id=client_id, panels=1)
    made["price"]["deposit"] = deposit
    made["quote"] = {"number": "T-1", "letter": "A"}
    made["rooms"][0]["site"] = {"address": "4 Weir Lane\nSample Town"} | site
    made["builds"]["reveal"] = {"name": "Reveal panel", "kind": "reveal"}
    used = [*(each for each, _ in cloths), *([fill] if fill else [])]
    made["materials"] = {str(each.pk): _facts(each) for each in used}
    wanted: list[tuple[str, Material | None, int]] = [
        ("wall", *each) for each in cloths
    ]
    if reveals:
        wanted.append(("reveal", cloths[0][0] if cloths else None, reveals))
    plain = made["groups"].pop("g1")
    panels: list[dict[str, Any]] = []
    for index, (build, cloth, count) in enumerate(wanted):
        made["groups"][f"g{index}"] = plain | {
            "build": build,
            "fabric": str(cloth.pk) if cloth else None,
            "count": count,
            "takeoff": {"fills": [{"material": str(fill.pk)}] if fill else []},
        }
        panels += ({"group": f"g{index}", "note": ""} for _ in range(count))
    made["panels"] = [
        panel | {"planned_panel": str(uuid.uuid4()), "number": number}
        for number, panel in enumerate(panels, start=1)
    ]
    return made


def _facts(material: Material) -> dict[str, Any]:
    names = ("code", "name", "kind", "colour", "fire_class", "fire_papers")
    return {name: getattr(material, name) for name in names}


def make_waiting_job(
    *,
    by: Any = None,
    at: dt.datetime = AT,
    gates: bool = True,
    client: Any = None,
    **snapshot: Any,
) -> Job:
    """Return an open job with a deposit, one fabric and a reveal panel to wait for."""
    client = client or make_client()
    by = by or make_person(role="owner")
    if "cloths" not in snapshot:
        snapshot |= {"cloths": [(make_fabric(), 2)]}
    asked: dict[str, Any] = {"deposit": "321.09", "reveals": 1} | snapshot
    made = gated_snapshot(client_id=client.pk, **asked)
    revision = make_revision(client=client, by=by, snapshot=made)
    job = make_job(by=by, at=at, revision=revision)
    if gates:
        set_up_gates(job, by=by, at=at)
    return job


def gate_of(job: Job, kind: str, *, material: Material | None = None) -> Gate:
    """Return a job's first gate of a kind, or that of a material, as lists read it."""
    gates = Gate.objects.of_job(job).of_kind(kind).with_job().with_said()
    if material is not None:
        gates = gates.filter(material=material)
    found = gates.in_asking_order().first()
    assert found is not None, f"{job} does not wait for {kind}"
    return found
