"""Fill: asked for as slabs to cut by knife, offcuts first; the rest is as with wood."""

from __future__ import annotations

import datetime as dt
import uuid
from dataclasses import dataclass

from jobs.board.models import Panel
from jobs.cutting.actions.asking import (
    SERIES,
    Ask,
    CannotPlanError,
    Store,
    keep_plan,
    nothing_to_plan,
    refuse_taken,
)
from jobs.cutting.actions.cloth import free_to_cut, remnants_of
from jobs.cutting.adapter import (
    Alike,
    CannotBeBuiltError,
    alike,
    request_to_json,
    sources_of,
    wanted_of,
)
from jobs.cutting.adapter.fill import fill_parts
from jobs.cutting.engine import Request
from jobs.cutting.models import CutKind, CutPlan
from quotes.specs.engine.cutlist import CutPart
from shared.conventions import current
from shared.numbering import next_number
from shop.people.models import Person


@dataclass(frozen=True, slots=True)
class _Worked:
    """What is to be cut of one fill."""

    ask: Ask
    groups: tuple[Alike, ...]
    parts: tuple[CutPart, ...]

    @property
    def panels(self) -> list[Panel]:
        return [panel for group in self.groups for panel in group.panels]


def ready_fill(ask: Ask) -> Store:
    """Work out what is to be cut of a fill; return what stores the plan.

    Panels that a shut gate holds up are left out. Raises `CannotPlanError`.
    """
    panels = Panel.objects.live().by_ids(ask.panels).with_group().select_related("job")
    key = str(ask.material.pk)
    using = [group for group in alike(panels) if key in group.fills]
    ready, waiting = free_to_cut(using, ask.material)
    if not ready:
        raise CannotPlanError(nothing_to_plan(ask.material, waiting))
    try:
        parts = fill_parts(ready, key, units=current().unit_system)
    except CannotBeBuiltError as refused:
        raise CannotPlanError(str(refused)) from refused
    worked = _Worked(ask, tuple(ready), parts)
    return lambda by, at: _store(worked, by=by, at=at)


def _store(worked: _Worked, *, by: Person, at: dt.datetime) -> CutPlan:
    ask, settings = worked.ask, worked.ask.settings
    ids = [panel.pk for panel in worked.panels]
    refuse_taken(ask.material, ids)
    pieces = remnants_of(ask.material) if settings.use_offcuts else []
    sources, priced_by = sources_of([ask.material], pieces, currency=current().currency)
    request = Request(
        sources=sources,
        parts=worked.parts,
        panels=wanted_of(worked.groups),
        thickness_ticks=worked.parts[0].thickness_ticks,
        priced_by=priced_by,
        units=current().unit_system,
        may_turn=True,
    )
    plan = CutPlan(
        number=next_number(SERIES, year=0),
        kind=CutKind.FILL,
        material=ask.material,
        keep_length_ticks=settings.keep_length_ticks,
        keep_width_ticks=settings.keep_width_ticks,
        asked_by=by,
        asked_at=at,
        request=request_to_json(request),
    )
    offered = [uuid.UUID(s.piece) for s in sources if s.is_piece]
    return keep_plan(plan, ids, offered, by=by, at=at)
