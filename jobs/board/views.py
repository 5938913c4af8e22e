"""The bench, jobs, and panels."""

from __future__ import annotations

import uuid
from typing import Any
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from jobs.board import reports
from jobs.board.actions import (
    CannotUndoError,
    Moved,
    Typed,
    mark_panels,
    measure_panel,
    move_panels,
    undo_marks,
    undo_moves,
    want_job_by,
)
from jobs.board.documents import bench_sheet
from jobs.board.forms import (
    MarkForm,
    MeasureForm,
    MoveForm,
    WantedForm,
    bench_filter,
)
from jobs.board.models import Job, Panel, Stage
from jobs.board.slots import JOB_SECTIONS, PANEL_SECTIONS
from jobs.board.stories import filled_words, story
from quotes.specs.engine.model import TakeoffError
from shared.access import Right, may, needs
from shared.audit.reports import log_of
from shared.files.views import pdf_response
from shared.forms import typed
from shared.htmx import done, page_or_fragment, wants_fragment
from shared.lists import cut, words
from shared.notices import say
from shared.slots import sections
from shop.people.me import me
from shop.people.reports import profile


@require_GET
def show_bench(request: HttpRequest) -> HttpResponse:
    """Show every live panel, by job and stage."""
    wanted = bench_filter(request.GET)
    return _bench(request, {"bench": reports.bench(wanted)})


def _bench(
    request: HttpRequest, context: dict[str, Any], status: int = 200
) -> HttpResponse:
    return page_or_fragment(
        request,
        page="jobs/board/bench.html",
        fragment="jobs/board/_bench.html",
        context=context,
        status=status,
    )


@require_POST
@needs(Right.MOVE_PANELS)
def move(request: HttpRequest) -> HttpResponse:
    """Move the chosen panels to a stage."""
    form = MoveForm(request.POST)
    if not form.is_valid():
        return _refused(request, form)
    moved = move_panels(
        form.cleaned_data["panel"],
        to=Stage(form.cleaned_data["to"]),
        by=me(request),
        at=timezone.now(),
    )
    to_label = Stage(form.cleaned_data["to"]).label
    undo = reverse("jobs:undo", args=(moved.batch,)) if moved.moved else ""
    return _answered(request, _move_words(moved, to_label), undo=undo)


def _move_words(moved: Moved, to_label: str) -> str:
    count = len(moved.moved)
    text = "Nothing was moved."
    if count:
        text = f"{_codes(moved.moved)} → {to_label}{filled_words(moved)}."
    if moved.elsewhere:
        text += f" {_codes(moved.elsewhere)} had been moved meanwhile: look again."
    return text


def _codes(panels: tuple[Panel, ...]) -> str:
    if len(panels) <= 3:
        return ", ".join(panel.code for panel in panels)
    return f"{len(panels)} panels"


@require_POST
@needs(Right.MOVE_PANELS)
def mark(request: HttpRequest) -> HttpResponse:
    """Mark the chosen panels, or take a mark off."""
    form = MarkForm(request.POST)
    if not form.is_valid():
        return _refused(request, form)
    what, word = form.change()
    ids = [pk for pk, _ in form.cleaned_data["panel"]]
    batch = mark_panels(ids, mark=what, now=word, by=me(request), at=timezone.now())
    said = f"{what.label}: taken off" if not word else what.label
    text = f"{len(ids)} marked: {said}{'' if word in ('', 'yes') else f' {word}'}."
    return _answered(request, text, undo=reverse("jobs:undo-marks", args=(batch,)))


@require_POST
@needs(Right.MOVE_PANELS)
def undo(request: HttpRequest, batch: uuid.UUID) -> HttpResponse:
    """Take back a move."""
    try:
        moved = undo_moves(batch, by=me(request), at=timezone.now())
    except CannotUndoError:
        return _answered(
            request, "That can't be taken back: the panels moved on since."
        )
    return _answered(request, f"Taken back: {_codes(moved.moved)}.")


@require_POST
@needs(Right.MOVE_PANELS)
def take_back_marks(request: HttpRequest, batch: uuid.UUID) -> HttpResponse:
    """Put marks back as they were."""
    try:
        undo_marks(batch, by=me(request), at=timezone.now())
    except CannotUndoError:
        return _answered(request, "That can't be taken back: the marks changed since.")
    return _answered(request, "Taken back.")


def _answered(request: HttpRequest, text: str, *, undo: str = "") -> HttpResponse:
    """Show the bench again, or the page one came from, with what was done."""
    if wants_fragment(request):
        bench = reports.bench(bench_filter(request.POST))
        return _bench(request, {"bench": bench, "said": text, "undo_url": undo})
    say(request, text, undo=undo)
    return done(request, _back(request))


def _back(request: HttpRequest) -> str:
    """Return the page of ours that the form stands on."""
    panel = Panel.objects.by_code(request.POST.get("from_panel", ""))
    if panel:
        return panel.get_absolute_url()
    wanted = bench_filter(request.POST)
    query = {"job": wanted.job, "fabric": wanted.fabric, "stage": wanted.stage}
    return f"{reverse('jobs:bench')}?{urlencode({k: v for k, v in query.items() if v})}"


def _refused(request: HttpRequest, form: MoveForm | MarkForm) -> HttpResponse:
    bench = reports.bench(bench_filter(request.POST))
    context = {"bench": bench, "form": form, "chosen": request.POST.getlist("panel")}
    return _bench(request, context, status=422)


@require_GET
def list_jobs(request: HttpRequest) -> HttpResponse:
    """List jobs, open ones first."""
    jobs = Job.objects.matching(words(request)).with_client().with_counts().open_first()
    context = {"listed": cut(request, jobs, "q"), "words": words(request)}
    return page_or_fragment(
        request,
        page="jobs/board/jobs.html",
        fragment="jobs/board/_jobs.html",
        context=context,
    )


@require_http_methods(["GET", "POST"])
def show_job(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show one job: its panels, what comes next; take the day it is wanted by."""
    job = get_object_or_404(Job.objects.with_client().with_quote(), pk=pk)
    if request.method == "POST":
        return _want(request, job)
    return _job(request, job, WantedForm(initial={"wanted_by": job.wanted_by}))


@needs(Right.PLAN_SITE_DAYS)
def _want(request: HttpRequest, job: Job) -> HttpResponse:
    form = WantedForm(request.POST)
    if not form.is_valid():
        return _job(request, job, form, status=form.status)
    day = form.cleaned_data["wanted_by"]
    want_job_by(job, day, by=me(request), at=timezone.now())
    say(request, "Stored.")
    return done(request, job.get_absolute_url())


def _job(
    request: HttpRequest, job: Job, form: WantedForm, status: int = 200
) -> HttpResponse:
    panels = reports.job_panels(job)
    context = {
        "job": job,
        "panels": panels,
        "sheets": reports.bench_sheets(panels),
        "stops": reports.job_stops(job),
        "sections": sections(JOB_SECTIONS, request, job),
        "log": log_of(job),
        "form": form,
        "rooms": reports.rooms_of(panels),
        "may_plan": may(request.user, Right.PLAN_SITE_DAYS),
        "may_quote": may(request.user, Right.QUOTE),
        "sees_clients": may(request.user, Right.SEE_CLIENTS),
    }
    return render(request, "jobs/board/job.html", context, status=status)


@require_http_methods(["GET", "POST"])
def show_panel(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show one panel, and take its own size when it is measured."""
    panel = get_object_or_404(
        Panel.objects.select_related("job__client__details"), pk=pk
    )
    if request.method == "POST" and panel.job.is_taken_back:
        say(request, f"{panel.job.code} was taken back: nothing of it is built.")
        return redirect(panel)
    if request.method == "POST":
        return _measure(request, panel)
    return _panel(request, panel, MeasureForm(initial=_sizes(panel)))


def _sizes(panel: Panel) -> dict[str, int | None]:
    return {"width": panel.measured_width_ticks, "height": panel.measured_height_ticks}


@needs(Right.MOVE_PANELS)
def _measure(request: HttpRequest, panel: Panel) -> HttpResponse:
    form = MeasureForm(request.POST, snapshot=panel.snapshot)
    if not form.is_valid():
        return _panel(request, panel, form, status=form.status)
    width, height = typed(form, "width"), typed(form, "height")
    batch = None
    if width and height:
        batch = measure_panel(
            panel,
            width=Typed(*width),
            height=Typed(*height),
            by=me(request),
            at=timezone.now(),
        )
    undo = reverse("jobs:undo", args=(batch,)) if batch else ""
    moved = " and moved on" if batch else ""
    say(request, f"{panel.code} measured{moved}.", undo=undo)
    return done(request, panel.get_absolute_url())


@require_GET
def panel_sheet(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Print the bench sheet of one panel, or with ?all=1 of all that are like it."""
    panel = get_object_or_404(Panel, pk=pk)
    alike = tuple(Panel.objects.like(panel)) if request.GET.get("all") else (panel,)
    try:
        pdf = bench_sheet(alike, profile=profile())
    except TakeoffError as refused:
        say(request, f"No sheet at the measured size. {refused.message}")
        return redirect(panel)
    return pdf_response(pdf, name=f"bench-{panel.code}.pdf")


def _panel(
    request: HttpRequest, panel: Panel, form: MeasureForm, status: int = 200
) -> HttpResponse:
    context = {
        "panel": panel,
        "form": form,
        "stops": reports.panel_stops(panel),
        "marks": reports.badges(panel),
        "drawing": reports.drawing_of(panel),
        "may_move": may(request.user, Right.MOVE_PANELS)
        and not panel.job.is_taken_back,
        "sections": sections(PANEL_SECTIONS, request, panel),
        "story": story(panel),
        "log": log_of(panel),
    }
    return render(request, "jobs/board/panel.html", context, status=status)
