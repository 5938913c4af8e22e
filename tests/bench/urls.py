"""All addresses, and bare pages with nothing on them to measure the others against."""

from typing import Any

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.template import engines
from django.urls import path
from django.utils import timezone
from django.views.decorators.http import require_POST

from shared.audit.actions import record
from shop.urls import urlpatterns as all_of_them

EMPTY = "{% extends 'base.html' %}{% block main %}<h1>Nothing</h1>{% endblock main %}"


def bare(request: HttpRequest) -> HttpResponse:
    """Answer with the base template alone."""
    return HttpResponse(engines["django"].from_string(EMPTY).render({}, request))


@require_POST
def bare_store(request: HttpRequest) -> HttpResponse:
    """Store one row, and answer with the base template alone."""
    person: Any = request.user
    with transaction.atomic():
        record(person, verb="bench", text="One row", by=person, at=timezone.now())
    return bare(request)


urlpatterns = [path("bare/", bare), path("bare/store/", bare_store), *all_of_them]
