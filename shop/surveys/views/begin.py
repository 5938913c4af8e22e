"""Where a survey is begun, network or not."""

from __future__ import annotations

import uuid

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from shared.access import Right, may, needs
from shared.offline.pages import kept_on_device
from shop.clients.models import Client
from shop.people.reports import profile
from shop.surveys.reports.begin import begin_page


@needs(Right.SURVEY)
@require_GET
@kept_on_device
def survey_begin(request: HttpRequest) -> HttpResponse:
    """Begin a survey, of the client of ?client= where one is named."""
    rows = Client.objects.with_details()
    asked = request.GET.get("client", "")
    client = get_object_or_404(rows, pk=_id(asked)) if asked else None
    sees = may(request.user, Right.SEE_MONEY)
    context = {"begin": begin_page(client, profile(), shows_rates=sees)}
    return render(request, "shop/surveys/begin.html", context)


def _id(text: str) -> uuid.UUID:
    try:
        return uuid.UUID(text)
    except ValueError:
        raise Http404 from None
