"""The page that a person lands on."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from jobs.nextup.reports import next_up
from shared.access import Right, may
from shared.conventions import today
from shop.people.me import me


@require_GET
def show_next_up(request: HttpRequest) -> HttpResponse:
    """Show what is due, what waits, what is late."""
    person = me(request)
    context = {
        "next_up": next_up(person, today=today(timezone.now())),
        "may_add_clients": may(person, Right.KEEP_CLIENTS),
        "may_survey": may(person, Right.SURVEY),
    }
    return render(request, "jobs/nextup/next_up.html", context)
