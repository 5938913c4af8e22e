"""Openings and zones of a survey, added and changed within its page."""

from __future__ import annotations

import uuid

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from shared.access import Right, needs
from shop.people.me import me
from shop.surveys import actions
from shop.surveys.forms import OpeningForm, ZoneForm
from shop.surveys.models import Opening, Survey, Zone
from shop.surveys.views.common import GET_POST, asked_wall, sent
from shop.surveys.views.editing import (
    Edit,
    answer,
    survey_of,
    ways_out,
)


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def opening_new(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Add an opening to a survey, on the wall of ?wall= unless another is chosen."""
    survey = survey_of(pk)
    opening, wall = Opening(), asked_wall(request, survey)
    form = OpeningForm(
        sent(request), instance=opening, survey=survey, initial={"wall": wall}
    )
    return answer(request, _opening_edit(request, survey, form, "A new opening"))


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def opening_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change an opening and its readings."""
    opening = get_object_or_404(
        Opening.objects.standing().select_related("wall"), pk=pk
    )
    survey = survey_of(opening.wall.survey_id)
    form = OpeningForm(sent(request), instance=opening, survey=survey)
    return answer(request, _opening_edit(request, survey, form, str(opening)))


def _opening_edit(
    request: HttpRequest, survey: Survey, form: OpeningForm, title: str
) -> Edit:
    def store() -> None:
        actions.store_opening(
            form.save(commit=False),
            form.readings(),
            by=me(request),
            at=timezone.now(),
        )

    return Edit("openings", survey, form, title[:1].upper() + title[1:], store)


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def zone_new(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Add a place to keep clear, on the wall of ?wall= unless another is chosen."""
    survey = survey_of(pk)
    zone, wall = Zone(survey=survey), asked_wall(request, survey)
    form = ZoneForm(sent(request), instance=zone, survey=survey, initial={"wall": wall})
    return answer(request, _zone_edit(request, survey, form, "A place to keep clear"))


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def zone_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change a place to keep clear."""
    zone = get_object_or_404(Zone.objects.standing(), pk=pk)
    survey = survey_of(zone.survey_id)
    form = ZoneForm(sent(request), instance=zone, survey=survey)
    return answer(request, _zone_edit(request, survey, form, str(zone)))


def _zone_edit(
    request: HttpRequest, survey: Survey, form: ZoneForm, title: str
) -> Edit:
    def store() -> None:
        zone = form.save(commit=False)
        actions.store_zone(zone, by=me(request), at=timezone.now())

    return Edit("zones", survey, form, title[:1].upper() + title[1:], store)


opening_remove, opening_restore = ways_out(Opening, "openings", "opening")
zone_remove, zone_restore = ways_out(Zone, "zones", "zone")
