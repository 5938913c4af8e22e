"""The work that a panel takes, in minutes of the shop's operations."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from quotes.pricing import engine
from quotes.specs.engine.model import Driver, Takeoff
from quotes.specs.models import BuildSpec
from shop.catalogue.models import Operation

NOUNS = {
    Driver.PANEL: "panels",
    Driver.JOINT: "joints",
    Driver.PART: "wood parts",
    Driver.FRAME_METRE: "m of wood",
    Driver.CUT: "crosscuts",
    Driver.RIP_METRE: "m of rip",
    Driver.BEVEL_METRE: "m of bevelled rip",
    Driver.BRACE: "braces",
    Driver.BLOCK: "blocks",
    Driver.FABRIC_M2: "m² of fabric",
    Driver.FABRIC_EDGE_METRE: "m of wrapped edge",
    Driver.SEAM_METRE: "m of seam",
    Driver.FILL_M2: "m² of fill",
    Driver.FILL_PIECE: "pieces of fill",
    Driver.EDGE_STRIP_METRE: "m of edge strip",
    Driver.HANGING_POINT: "hanging points",
    Driver.SCREW_HOLE: "screw holes",
    Driver.FACE_M2: "m² of face",
    Driver.JOB: "for the job",
}
"""How so many of a driver read: 4 joints."""

ONE = {
    Driver.PANEL: "panel",
    Driver.JOINT: "joint",
    Driver.PART: "wood part",
    Driver.CUT: "crosscut",
    Driver.BRACE: "brace",
    Driver.BLOCK: "block",
    Driver.FILL_PIECE: "piece of fill",
    Driver.HANGING_POINT: "hanging point",
    Driver.SCREW_HOLE: "screw hole",
}
"""How a single one reads, where that is another word."""


def operations_of(spec: BuildSpec) -> dict[str, Operation]:
    """Return a build's operations by the key that the takeoff counts them under."""
    return {str(row.operation_id): row.operation for row in spec.operations.all()}


def work_of(takeoff: Takeoff, spec: BuildSpec, *, once: bool) -> Iterator[engine.Work]:
    """Yield the work that takes time: once for the job, or on each panel."""
    known = operations_of(spec)
    for done in takeoff.operations:
        operation = known[done.key]
        takes_time = done.amount and operation.minutes
        if not takes_time or (done.driver is Driver.JOB) is not once:
            continue
        yield engine.Work(
            code=operation.code,
            label=operation.name,
            stage=engine.Stage(operation.stage),
            count=done.amount,
            noun=_noun(done.driver, done.amount),
            minutes_each=operation.minutes,
            hourly_rate=operation.hourly_rate,
        )


def _noun(driver: Driver, amount: Decimal) -> str:
    return ONE.get(driver, NOUNS[driver]) if amount == 1 else NOUNS[driver]
