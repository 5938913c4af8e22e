"""A roll plan's request and what is kept of its answer; lengths in ticks (pure).

x is across the roll from the inner edge of the left selvedge, y along it from its
beginning.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any

from jobs.cutting.engine.request import WantedPanel
from jobs.cutting.engine.saw import Freed, Row, SawStep, Where
from quotes.specs.frozen import read, to_json
from shared.length import UnitSystem
from shared.nesting import NestingError, Verdict
from shared.nesting.rolls import (
    A_METRE,
    Lay,
    Roll,
    RollJob,
    RollPart,
    RollPlan,
    RollUse,
)

SCHEMA = 1


@dataclass(frozen=True, slots=True)
class ClothSource:
    """Cloth to cut from: a kept remnant, what lies in the stores of a dye lot, or new.

    ``price`` is for a metre, in minor units, or 1000 where none is known; 0 where it is
    a remnant. ``length_ticks`` is None where as much as is wanted can be bought.
    ``piece`` is the remnant's id; ``is_new``: it is still to be bought.
    """

    key: str
    name: str
    width_ticks: int
    length_ticks: int | None
    price: int
    lot: str = ""
    piece: str = ""
    selvedge_ticks: int = 0
    is_new: bool = False

    @property
    def is_piece(self) -> bool:
        """Whether it is a kept remnant."""
        return bool(self.piece)


@dataclass(frozen=True, slots=True)
class Owner:
    """Whose one piece is, by the panel's id, and what it covers there."""

    panel: str
    role: str


@dataclass(frozen=True, slots=True)
class ClothPart:
    """Pieces of one cut size that lie alike: as the takeoffs say, upright on the panel.

    ``lays`` are sizes of one drop; ``owners`` name the pieces in the order of their copies.
    A remnant for repairs has no owner.
    """

    key: str
    label: str
    width_ticks: int
    height_ticks: int
    lays: tuple[Lay, ...]
    owners: tuple[Owner, ...]
    group: str = ""
    may_seam: bool = False
    seam_ticks: int = 0
    for_repairs: bool = False

    @property
    def count(self) -> int:
        """How many pieces are wanted."""
        return len(self.owners) or 1


@dataclass(frozen=True, slots=True)
class ClothRequest:
    """Everything that a plan of cloth was made from: one material for panels of one job."""

    sources: tuple[ClothSource, ...]
    parts: tuple[ClothPart, ...]
    panels: tuple[WantedPanel, ...]
    job: str
    has_price: bool
    units: UnitSystem
    repeat_ticks: int | None = None
    directional: bool = False
    spare_percent: Decimal = Decimal(0)
    lot: str = ""
    facts: tuple[str, ...] = ()
    schema: int = SCHEMA

    def source(self, key: str) -> ClothSource:
        """Return the cloth of a key."""
        return next(each for each in self.sources if each.key == key)

    def part(self, key: str) -> ClothPart:
        """Return the part of a key."""
        return next(each for each in self.parts if each.key == key)

    @property
    def codes(self) -> Mapping[str, str]:
        """The panels' codes by id."""
        return {panel.id: panel.code for panel in self.panels}


def roll_job(request: ClothRequest) -> RollJob:
    """Return the solver's job; raises `NestingError` for what can't be cut."""
    return RollJob(
        rolls=tuple(_roll(source) for source in request.sources),
        parts=tuple(
            RollPart(
                key=part.key,
                lays=part.lays,
                count=part.count,
                group=part.group,
                may_seam=part.may_seam,
                seam_ticks=part.seam_ticks,
                for_repairs=part.for_repairs,
            )
            for part in request.parts
        ),
        repeat_ticks=request.repeat_ticks,
        spare_percent=request.spare_percent,
        price_ticks=A_METRE,
    )


def _roll(source: ClothSource) -> Roll:
    return Roll(
        key=source.key,
        width_ticks=source.width_ticks,
        selvedge_ticks=source.selvedge_ticks,
        length_ticks=source.length_ticks,
        price=source.price,
        priced_whole=source.is_piece,
        available=None if source.is_new else 1,
        lot=source.lot,
    )


def owners_of_cloth(request: ClothRequest, refused: NestingError) -> str:
    """Say whose cloth a refusal is about; nothing where none is meant."""
    found = [part for part in request.parts if part.key == refused.key]
    if not found or not found[0].owners:
        return ""
    owners = list(dict.fromkeys(request.codes[o.panel] for o in found[0].owners))
    more = f" and {len(owners) - 3} more panels" if len(owners) > 3 else ""
    return f"It is the {found[0].label} of {', '.join(owners[:3])}{more}."


def cloth_result(plan: RollPlan) -> dict[str, Any]:
    """Return what is kept of a plan: the plan, and the rows to pull and cut."""
    rolls = [to_json(use) | {"cost": str(use.cost)} for use in plan.rolls]
    kept = {
        "rolls": rolls,
        "verdict": to_json(plan.verdict),
        "yield_share": plan.yield_share,
        "warnings": list(plan.warnings),
    }
    rows = [to_json(row) for row in cloth_rows(plan)]
    return {"schema": SCHEMA, "plan": kept, "rows": rows, "halvings": []}


def roll_plan_of(result: Mapping[str, Any]) -> RollPlan:
    """Read a plan back from what is kept of it."""
    kept = result["plan"]
    return RollPlan(
        rolls=tuple(
            read(RollUse, each | {"cost": Fraction(each["cost"])}, "roll")
            for each in kept["rolls"]
        ),
        verdict=read(Verdict, kept["verdict"], "verdict"),
        yield_share=kept["yield_share"],
        warnings=tuple(kept["warnings"]),
    )


def cloth_rows(plan: RollPlan) -> tuple[Row, ...]:
    """Return a row for each pull: the setting is how much is pulled off the roll."""
    return tuple(
        Row(
            key=f"pull-{number}-{row.at_ticks}-{row.along_ticks}",
            step=SawStep.PULL,
            setting_ticks=row.along_ticks,
            bevel_deg=0.0,
            cuts=len(row.cuts),
            places=(Where(number, number, None, index, len(row.cuts)),),
            pieces=tuple(Freed(piece.part, 1) for piece in row.pieces),
        )
        for number, use in enumerate(plan.rolls, start=1)
        for index, row in enumerate(use.rows)
    )
