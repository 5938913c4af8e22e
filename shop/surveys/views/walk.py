"""The walk round a room with a tape: fields that save themselves, network or not."""

from __future__ import annotations

import uuid

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from shared.access import Right, needs
from shared.offline.pages import kept_on_device
from shop.surveys.models import Survey
from shop.surveys.reports.walk import walk_page


@needs(Right.SURVEY)
@require_GET
@kept_on_device
def survey_walk(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show what is typed on the walk; each field writes through the device's queue."""
    survey = get_object_or_404(Survey.objects.with_room(), pk=pk)
    context = {"survey": survey, "page": walk_page(survey)}
    return render(request, "shop/surveys/walk.html", context)
