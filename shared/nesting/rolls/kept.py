"""Roll plans as plain JSON and back, and as a beginning for a later search."""

from __future__ import annotations

import dataclasses
from fractions import Fraction
from typing import Any, TypeAlias

from shared.nesting.result import Verdict
from shared.nesting.rolls.level import Bin, Level, Spot, level_of
from shared.nesting.rolls.result import (
    Cut,
    Placed,
    RollPlan,
    RollUse,
    Row,
    Scrap,
    Way,
)
from shared.nesting.rolls.table import Table, Variant

Json: TypeAlias = dict[str, Any]  # whatever JSON holds


def roll_plan_to_json(plan: RollPlan) -> Json:
    """Return a plan as dicts, lists, texts and numbers; a cost as "minor units/1"."""
    kept = dataclasses.asdict(plan)
    for use in kept["rolls"]:
        use["cost"] = str(use["cost"])
    return kept


def roll_plan_from_json(kept: Json) -> RollPlan:
    """Return the plan that was kept."""
    return RollPlan(
        rolls=tuple(_use(use) for use in kept["rolls"]),
        verdict=Verdict(**kept["verdict"]),
        yield_share=kept["yield_share"],
        warnings=tuple(kept["warnings"]),
    )


def _use(kept: Json) -> RollUse:
    rows = tuple(_row(row) for row in kept["rows"])
    return RollUse(**{**kept, "rows": rows, "cost": Fraction(kept["cost"])})


def _row(kept: Json) -> Row:
    cuts = tuple(Cut(**{**cut, "way": Way(cut["way"])}) for cut in kept["cuts"])
    return Row(
        at_ticks=kept["at_ticks"],
        along_ticks=kept["along_ticks"],
        pieces=tuple(Placed(**piece) for piece in kept["pieces"]),
        cuts=cuts,
        scraps=tuple(Scrap(**scrap) for scrap in kept["scraps"]),
    )


def resumed(table: Table, variant: Variant, plan: RollPlan) -> list[Bin] | None:
    """Return an earlier plan as rows of this table, None where it holds other pieces."""
    places = {part.key: place for place, part in enumerate(table.job.parts)}
    items = {p: item for item, members in enumerate(table.members) for p in members}
    kinds = {kind.roll.key: index for index, kind in enumerate(table.kinds)}
    left = list(table.demand)
    bins = []
    for use in plan.rolls:
        levels = []
        for row in use.rows:
            spots = [_spot(table, places, items, row, piece) for piece in row.pieces]
            known = [spot for spot in spots if spot is not None]
            if len(known) < len(spots) or use.roll not in kinds:
                return None
            for spot in known:
                left[table.options[spot.option].item] -= 1
            levels.append(_level(table, known))
        bins.append(Bin(kinds[use.roll], levels))
    return None if any(left) else bins


def _spot(
    table: Table, places: dict[str, int], items: dict[int, int], row: Row, piece: Placed
) -> Spot | None:
    place = places.get(piece.part)
    if place is None:
        return None
    size = piece.across_ticks, piece.along_ticks
    y = piece.y_ticks - row.at_ticks - table.job.parts[place].offset_ticks
    for option in table.ways[items[place]]:
        lay = table.options[option].lay
        if (lay.across_ticks, lay.along_ticks) == size and y >= 0:
            return Spot(option, piece.x_ticks, y)
    return None


def _level(table: Table, spots: list[Spot]) -> Level:
    length = max(spot.y + table.options[spot.option].along for spot in spots)
    return level_of(table, spots, length)
