"""Cut plans as plain JSON and back, so that a plan can be kept and sawn from later."""

from __future__ import annotations

import dataclasses
from typing import Any, TypeAlias

from shared.nesting.result import (
    BarPattern,
    BarPlan,
    Layout,
    Offcut,
    Piece,
    Pieces,
    Plate,
    SheetPlan,
    Strip,
    Verdict,
)

Json: TypeAlias = dict[str, Any]  # whatever JSON holds


def plan_to_json(plan: SheetPlan | BarPlan) -> Json:
    """Return a plan as dicts, lists, texts and numbers."""
    return dataclasses.asdict(plan)


def bar_plan_from_json(kept: Json) -> BarPlan:
    """Return the plan of bars that was kept."""
    return BarPlan(
        patterns=tuple(
            BarPattern(**{**p, "pieces": _pieces(p["pieces"])})
            for p in kept["patterns"]
        ),
        verdict=Verdict(**kept["verdict"]),
        yield_share=kept["yield_share"],
    )


def sheet_plan_from_json(kept: Json) -> SheetPlan:
    """Return the plan of sheets that was kept."""
    return SheetPlan(
        layouts=tuple(
            Layout(
                sheet=layout["sheet"],
                count=layout["count"],
                plates=tuple(_plate(plate) for plate in layout["plates"]),
                offcuts=tuple(Offcut(**offcut) for offcut in layout["offcuts"]),
            )
            for layout in kept["layouts"]
        ),
        verdict=Verdict(**kept["verdict"]),
        yield_share=kept["yield_share"],
    )


def _pieces(kept: list[Json]) -> tuple[Pieces, ...]:
    return tuple(Pieces(**pieces) for pieces in kept)


def _plate(kept: Json) -> Plate:
    strips = tuple(
        Strip(**{**strip, "pieces": tuple(Piece(**piece) for piece in strip["pieces"])})
        for strip in kept["strips"]
    )
    return Plate(**{**kept, "strips": strips})
