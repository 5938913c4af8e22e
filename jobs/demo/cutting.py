"""Cut plans of the demo: one all cut, one that is ready for the saw."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Sequence

from jobs.board.models import Panel
from jobs.cutting.actions import PlanSettings, Real, ask_plan, check_stock, finish_plan
from jobs.cutting.models import CutPlan
from jobs.cutting.reports import saw_rules
from jobs.cutting.solving import solve
from jobs.demo.people import Cast
from jobs.demo.rooms import typed
from shop.catalogue.models import Material

DAY = dt.timedelta(days=1)


def plan_cuts(cast: Cast, at: dt.datetime) -> None:
    """Cut what the bench has as cut; plan the plywood of what comes next."""
    ply = Material.objects.get(code="frame-ply")
    panels = Panel.objects.live().with_job().order_by("job__opened_at", "number")
    measured = panels.at_stage("measured")
    cut = [panel.pk for panel in measured if panel.cut_at]
    done = _plan(cut, ply, cast, at - 3 * DAY, use_offcuts=False)
    done = check_stock(done, _real(ply), by=cast.maker, at=at - 3 * DAY)
    finish_plan(done, keep=(), by=cast.maker, at=at - 2 * DAY)
    _plan([panel.pk for panel in panels.uncut()], ply, cast, at)


def _plan(
    panels: Sequence[uuid.UUID],
    ply: Material,
    cast: Cast,
    at: dt.datetime,
    *,
    use_offcuts: bool = True,
) -> CutPlan:
    settings = PlanSettings.of(saw_rules(), use_offcuts=use_offcuts)
    plan = ask_plan(panels, ply, settings, by=cast.maker, at=at)
    solve(plan.pk, now=lambda: at)
    found: CutPlan = CutPlan.objects.for_page().get(pk=plan.pk)
    return found


def _real(ply: Material) -> Real:
    sides = (ply.thickness_ticks, ply.length_ticks, ply.width_ticks)
    texts = [f"{(side or 0) / 320:g}" for side in sides]
    thickness, length, width = map(typed, texts)
    return Real(thickness=thickness, length=length, width=width)
