"""What follows if the rest of a plan is planned anew: made, lost, rests, still to cut."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from jobs.cutting.adapter import request_of
from jobs.cutting.engine import Request
from jobs.cutting.engine.notation import letters_of
from jobs.cutting.engine.remains import Rest
from jobs.cutting.models import CutPlan
from jobs.cutting.reports.words import notation


@dataclass(frozen=True, slots=True)
class PartLeft:
    """A part: how many are cut and good, how many are still to be cut."""

    name: str
    size: str
    good: int
    wanted: int


@dataclass(frozen=True, slots=True)
class Follows:
    """What a new plan would begin from."""

    parts: tuple[PartLeft, ...]
    rests: tuple[str, ...]
    booked: tuple[str, ...]


def follows_of(
    plan: CutPlan,
    left: Request,
    *,
    made: Mapping[str, int],
    sources: Iterable[str],
    rests: Iterable[Rest],
) -> Follows:
    """Put into words what is made, what is left over, and what leaves the stores."""
    request, show = request_of(plan), notation()
    letters = letters_of(request)
    wanted = {part.key: part.count for part in left.parts}
    used = Counter(request.source(key).name for key in sources)
    return Follows(
        parts=tuple(
            PartLeft(
                name=f"{letters[part.key]} {part.label}",
                size=show.size(part.length_ticks, part.width_ticks),
                good=made.get(part.key, 0),
                wanted=wanted.get(part.key, 0),
            )
            for part in request.parts
        ),
        rests=tuple(
            f"{show.size(rest.length_ticks, rest.width_ticks)} of {plan.noun} {rest.number}"
            for rest in rests
        ),
        booked=tuple(f"{count} × {name}" for name, count in used.items()),
    )
