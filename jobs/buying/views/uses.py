"""Take material out of the stores for a job, and put it back."""

from __future__ import annotations

import datetime as dt
import uuid

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from jobs.board.models import Job
from jobs.buying.actions import uses
from jobs.buying.actions.errors import CannotOrderError
from jobs.buying.forms import TakeOutForm
from jobs.buying.reports.jobs import job_material
from jobs.buying.views.common import GET_POST
from shared.access import Right, may, needs
from shared.conventions import today
from shared.notices import say
from shop.catalogue.models import StockLevel
from shop.people.me import me

MICRO = dt.timedelta(microseconds=1)
EPOCH = dt.datetime(1970, 1, 1, tzinfo=dt.UTC)


def stamp_of(at: dt.datetime) -> int:
    """Write a moment into an address, exactly."""
    return (at - EPOCH) // MICRO


def get_job(pk: uuid.UUID) -> Job:
    """Return a job with its client, or 404."""
    found: Job = get_object_or_404(Job.objects.standing().with_client(), pk=pk)
    return found


@require_http_methods(GET_POST)
@needs(Right.KEEP_STORES, Right.CUT)
def take_out(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Ask what is taken out for a job, and book it."""
    job = get_job(pk)
    now = timezone.now()
    material = job_material(job, today=today(now))
    ids = [row.material.pk for row in material.rows]
    form = TakeOutForm(
        request.POST or None,
        material=material,
        levels=StockLevel.objects.of_materials(ids).exclude(quantity=0),
    )
    if request.method == "POST" and form.is_valid():
        try:
            told = uses.take_out(job, form.outs(), by=me(request), at=now)
        except CannotOrderError as refused:
            form.add_error(None, refused.message)
        else:
            undo = reverse("jobs:put-back", args=(job.pk, stamp_of(now)))
            say(request, " ".join((f"Taken out for {job.code}.", *told)), undo=undo)
            return redirect(job)
    context = {
        "job": job,
        "form": form,
        "sees_clients": may(request.user, Right.SEE_CLIENTS),
    }
    return render(request, "jobs/buying/take_out.html", context, status=form.status)


@require_POST
@needs(Right.KEEP_STORES, Right.CUT)
def put_back(request: HttpRequest, pk: uuid.UUID, stamp: int) -> HttpResponse:
    """Put back what was taken out together."""
    job = get_job(pk)
    try:
        booked_at = EPOCH + stamp * MICRO
        uses.put_back(job, booked_at, by=me(request), at=timezone.now())
    except OverflowError:
        say(request, "That was put back already.")
    except CannotOrderError as refused:
        say(request, refused.message)
    else:
        say(request, f"Put back into the stores: {job.code} has used that much less.")
    return redirect(job)
