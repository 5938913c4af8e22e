"""What is kept of a plan: the plan, the rows of the saw, what halving costs; plain JSON.

    {"schema": 1, "plan": ..., "rows": [...], "halvings": [...]}

``plan`` is the solver's own JSON, ``rows`` are ``saw.Row``s in the order to saw,
``halvings`` are ``Halved``s (none for bars, or where the search was stopped).
"""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Any

from jobs.cutting.engine.request import Request, sheet_job
from jobs.cutting.engine.saw import Row, bar_rows, sheet_rows
from quotes.specs.frozen import read, to_json
from shared.nesting import BarPlan, Effort, SheetPlan
from shared.nesting.halvings import compare_halvings
from shared.nesting.kept import plan_to_json
from shared.nesting.model import Halving

SCHEMA = 1


@dataclass(frozen=True, slots=True)
class Halved:
    """A way to begin, what a plan with it takes, or why there is none.

    ``sheets`` are whole ones, ``offcuts`` kept pieces.
    """

    halving: Halving
    sheets: int
    price: int
    refused: str = ""
    offcuts: int = 0


def sheet_result(
    request: Request, plan: SheetPlan, *, effort: Effort | None = None
) -> dict[str, Any]:
    """Return what is kept of a plan of sheets; with an effort, what halving costs, too."""
    rows = sheet_rows(request, plan)
    return _kept(plan, rows, _halvings(request, plan, effort) if effort else ())


def bar_result(request: Request, plan: BarPlan) -> dict[str, Any]:
    """Return what is kept of a plan of bars."""
    return _kept(plan, bar_rows(request, plan), ())


def _kept(
    plan: SheetPlan | BarPlan, rows: tuple[Row, ...], halvings: tuple[Halved, ...]
) -> dict[str, Any]:
    return {
        "schema": SCHEMA,
        "plan": plan_to_json(plan),
        "rows": [to_json(row) for row in rows],
        "halvings": [asdict(each) for each in halvings],
    }


def _halvings(request: Request, plan: SheetPlan, effort: Effort) -> tuple[Halved, ...]:
    """Return each way; the plan's own as good as it was found."""
    found = []
    for each in compare_halvings(sheet_job(request), effort):
        best = plan if each.halving is request.halving else each.plan
        if best is None:
            message = each.refused.message if each.refused else ""
            found.append(Halved(each.halving, 0, 0, message))
        else:
            offcuts = sum(
                layout.count
                for layout in best.layouts
                if request.source(layout.sheet).is_piece
            )
            whole, price = best.sheet_count - offcuts, best.verdict.price
            found.append(Halved(each.halving, whole, price, offcuts=offcuts))
    return tuple(found)


def rows_of(result: dict[str, Any]) -> tuple[Row, ...]:
    """Read back the rows of the saw, in the order to saw."""
    return tuple(read(Row, each, "row") for each in result["rows"])


def halvings_of(result: dict[str, Any]) -> tuple[Halved, ...]:
    """Read back what halving costs."""
    return tuple(read(Halved, each, "halving") for each in result["halvings"])
