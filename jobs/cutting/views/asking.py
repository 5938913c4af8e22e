"""What can be cut now, plans, and asking for new ones; the saw's rules."""

from __future__ import annotations

import uuid
from collections.abc import Iterable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from jobs.board.models import Job
from jobs.cutting import actions, reports
from jobs.cutting.forms import AskForm, RulesForm
from jobs.cutting.models import CutPlan
from shared.access import Right, may, needs
from shared.htmx import page_or_fragment
from shared.lists import cut
from shared.notices import say
from shop.people.me import me

GET_POST = ["GET", "HEAD", "POST"]


@require_GET
@needs(Right.CUT)
def list_plans(request: HttpRequest) -> HttpResponse:
    """Show what can be cut now, and the plans that there are."""
    plans = CutPlan.objects.with_material().with_counts().open_first()
    context = {
        "jobs": reports.uncut_jobs(),
        "listed": cut(request, plans),
        "may_learn": may(request.user, Right.QUOTE),
    }
    return page_or_fragment(
        request,
        page="jobs/cutting/plans.html",
        fragment="jobs/cutting/_plans.html",
        context=context,
    )


@require_http_methods(GET_POST)
@needs(Right.CUT)
def new_plan(request: HttpRequest) -> HttpResponse:
    """Ask for plans for the jobs that ?job= names."""
    jobs = tuple(Job.objects.open().by_ids(_ids(request.GET.getlist("job"))))
    choices = reports.choices_of(jobs)
    if not choices:
        return render(request, "jobs/cutting/nothing.html", {"jobs": jobs})
    initial = _usual(reports.saw_rules(), choices)
    form = AskForm(request.POST or None, choices=choices, initial=initial)
    if request.method == "POST" and form.is_valid():
        try:
            plans = actions.ask_plans(form.asks(), by=me(request), at=timezone.now())
        except actions.CannotPlanError as refused:
            form.add_error("material", str(refused))
        else:
            return _asked(request, plans)
    context = {"jobs": jobs, "choices": choices, "form": form}
    return render(request, "jobs/cutting/new.html", context, status=form.status)


def _ids(texts: Iterable[str]) -> list[uuid.UUID]:
    """Read ids; what is none names no job."""
    found = []
    for text in texts:
        try:
            found.append(uuid.UUID(text))
        except ValueError:
            continue
    return found


def _usual(rules: object, choices: Iterable[reports.Choice]) -> dict[str, object]:
    """Return what the form shows first: the saw's rules, every material."""
    names = RulesForm.Meta.fields
    return {name: getattr(rules, name) for name in names} | {
        "use_offcuts": True,
        "material": [str(c.material.pk) for c in choices if c.ready],
        "alternative": [],
    }


def _asked(request: HttpRequest, plans: tuple[CutPlan, ...]) -> HttpResponse:
    if len(plans) == 1:
        return redirect(plans[0])
    say(request, f"{', '.join(map(str, plans))} are being planned.")
    return redirect(reverse("jobs:cutting"))


@require_http_methods(GET_POST)
@needs(Right.CUT)
def change_rules(request: HttpRequest) -> HttpResponse:
    """Show and change what the saw takes."""
    form = RulesForm(request.POST or None, instance=reports.saw_rules())
    if request.method == "POST" and form.is_valid():
        actions.change_rules(form.instance, by=me(request), at=timezone.now())
        say(request, "Stored. Plans that are there keep the rules they were made with.")
        return redirect("jobs:saw-rules")
    return render(
        request, "jobs/cutting/rules.html", {"form": form}, status=form.status
    )
