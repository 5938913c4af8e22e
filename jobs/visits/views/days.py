"""Site days: list, page, plan, change, call off, close."""

from __future__ import annotations

import uuid
from collections.abc import Iterable

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from jobs.board.actions import CannotUndoError, Moved
from jobs.board.codes import runs_of
from jobs.board.models import Job
from jobs.board.stories import filled_words
from jobs.visits import actions, reports
from jobs.visits.engine.words import counted, listed
from jobs.visits.forms import CloseForm, DayForm
from jobs.visits.models import HowEnded, LooseEnd, SiteDay
from shared.access import Right, may, needs
from shared.audit.reports import log_of
from shared.conventions import current, today
from shared.htmx import page_or_fragment
from shared.lists import cut
from shared.notices import say
from shared.offline.pages import kept_on_device
from shop.people.me import me

GET_POST = ["GET", "HEAD", "POST"]
MOVED_ON = "That is no longer possible: somebody changed the day meanwhile."


def get_day(pk: uuid.UUID) -> SiteDay:
    """Return a day with what its heading shows, or 404."""
    found: SiteDay = get_object_or_404(SiteDay.objects.with_page(), pk=pk)
    return found


@require_GET
def list_days(request: HttpRequest) -> HttpResponse:
    """List what is planned, or with ?past=1 what is over."""
    past = bool(request.GET.get("past"))
    days = SiteDay.objects.past() if past else SiteDay.objects.planned()
    context = {
        "listed": cut(request, days.with_page().with_counts(), "past"),
        "past": past,
        "today": today(timezone.now()),
        "may_plan": may(request.user, Right.PLAN_SITE_DAYS),
        "sees_clients": may(request.user, Right.SEE_CLIENTS),
    }
    return page_or_fragment(
        request,
        page="jobs/visits/days.html",
        fragment="jobs/visits/_days.html",
        context=context,
    )


@needs(Right.PLAN_SITE_DAYS)
@require_http_methods(GET_POST)
def new_day(request: HttpRequest) -> HttpResponse:
    """Plan a day for the job that ?job= names, or ask for which."""
    if "job" not in request.GET:
        jobs = Job.objects.open().with_client().with_counts()
        return render(request, "jobs/visits/which_job.html", {"jobs": jobs})
    job = _job(request.GET["job"])
    form = DayForm(request.POST or None, job=job, today=today(timezone.now()))
    if request.method == "POST" and form.is_valid():
        planned = actions.plan_day(
            job,
            form.plan(),
            zone=current().time_zone,
            by=me(request),
            at=timezone.now(),
        )
        cancel = reverse("jobs:site-day-cancel", args=(planned.pk,))
        then = "written down: close it below" if form.is_over else "planned"
        say(request, f"{planned} is {then}.", undo=cancel)
        return redirect(planned)
    context = {"job": job, "form": form, "title": f"Plan a day for {job.code}"}
    return render(request, "jobs/visits/form.html", context, status=form.status)


def _job(text: str) -> Job:
    """Return the job of an id; 404 for what is no id, or no job."""
    try:
        pk = uuid.UUID(text)
    except ValueError:
        raise Http404 from None
    found: Job = get_object_or_404(Job.objects.standing().with_client(), pk=pk)
    return found


@require_GET
@kept_on_device
def show_day(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show who goes where and when, with what, and what comes next."""
    day = get_day(pk)
    page = reports.day_page(day, today=today(timezone.now()))
    return _show(request, day, CloseForm(page=page))


def _show(request: HttpRequest, day: SiteDay, form: CloseForm) -> HttpResponse:
    context = {
        "day": day,
        "page": form.page,
        "form": form,
        "ended": reports.ended(day),
        "may_plan": may(request.user, Right.PLAN_SITE_DAYS),
        "may_close": may(request.user, Right.LOAD_VAN),
        "sees_clients": may(request.user, Right.SEE_CLIENTS),
        "log": log_of(day),
    }
    return render(request, "jobs/visits/day.html", context, status=form.status)


@needs(Right.PLAN_SITE_DAYS)
@require_http_methods(GET_POST)
def change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change a planned day."""
    day = get_day(pk)
    if not day.is_planned:
        say(request, f"{day} is {day.get_state_display()}: it can’t be changed.")
        return redirect(day)
    form = DayForm(
        request.POST or None, job=day.job, day=day, today=today(timezone.now())
    )
    if request.method == "POST" and form.is_valid():
        try:
            actions.change_day(day, form.plan(), by=me(request), at=timezone.now())
        except actions.DayHasMovedOnError:
            say(request, MOVED_ON)
            return redirect(day)
        say(request, "The day is changed.")
        return redirect(day)
    context = {"job": day.job, "day": day, "form": form, "title": f"Change the {day}"}
    return render(request, "jobs/visits/form.html", context, status=form.status)


@require_POST
@needs(Right.PLAN_SITE_DAYS)
def cancel(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Call a day off; one tap puts it back."""
    day = get_day(pk)
    try:
        actions.cancel_day(day, by=me(request), at=timezone.now())
    except actions.DayHasMovedOnError:
        say(request, MOVED_ON)
        return redirect(day)
    undo = reverse("jobs:site-day-restore", args=(day.pk,))
    say(request, f"{day} is called off.", undo=undo)
    return redirect(day)


@require_POST
@needs(Right.PLAN_SITE_DAYS)
def restore(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put a cancelled day back."""
    day = get_day(pk)
    try:
        actions.restore_day(day, by=me(request), at=timezone.now())
    except actions.DayHasMovedOnError:
        say(request, MOVED_ON)
        return redirect(day)
    undo = reverse("jobs:site-day-cancel", args=(day.pk,))
    say(request, f"{day} is planned again.", undo=undo)
    return redirect(day)


@require_POST
@needs(Right.LOAD_VAN)
def finish(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Close a day, and move on what was hung."""
    day = get_day(pk)
    page = reports.day_page(day, today=today(timezone.now()))
    form = CloseForm(request.POST, page=page)
    if not form.is_valid():
        return _show(request, day, form)
    seen, ends = form.cleaned_data["panel"], form.ends()
    try:
        moved = actions.close_day(
            day, seen, ends=ends, by=me(request), at=timezone.now()
        )
    except actions.DayHasMovedOnError:
        say(request, MOVED_ON)
        return redirect(day)
    undo = reverse("jobs:site-day-reopen", args=(day.pk,))
    if moved and moved.moved:
        undo = reverse("jobs:site-day-reopen-with", args=(day.pk, moved.batch))
    say(request, _done_words(moved) + _left_words(ends), undo=undo)
    return redirect(day)


def _done_words(moved: Moved | None) -> str:
    """Say what was hung, and what was not where it was seen."""
    hung, elsewhere = (moved.moved, moved.elsewhere) if moved else ((), ())
    text = "The day is done."
    if hung:
        filled = filled_words(moved) if moved else ""
        text = f"The day is done: {counted(len(hung), 'panel')} installed{filled}."
    if elsewhere:
        codes = runs_of(panel.code for panel in elsewhere)
        text += f" {codes} had been moved meanwhile: look again."
    return text


def _left_words(ends: Iterable[LooseEnd]) -> str:
    """Say what stayed behind; nothing if nothing did."""
    names = [end.name for end in ends if end.how == HowEnded.LEFT]
    return f" Left behind: {listed(names)}." if names else ""


@require_POST
@needs(Right.LOAD_VAN)
def reopen(
    request: HttpRequest, pk: uuid.UUID, batch: uuid.UUID | None = None
) -> HttpResponse:
    """Take back the closing of a day, with the moves that went with it."""
    day = get_day(pk)
    try:
        actions.open_day_again(day, batch, by=me(request), at=timezone.now())
    except (actions.DayHasMovedOnError, CannotUndoError):
        say(request, "That can’t be taken back: it was changed since.")
        return redirect(day)
    say(request, "The day is open again.")
    return redirect(day)
