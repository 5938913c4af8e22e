"""Walls and beams of a survey, added, changed and taken out within its page."""

from __future__ import annotations

import uuid

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from shared.access import Right, needs
from shop.people.me import me
from shop.surveys import actions
from shop.surveys.adapter import free_name
from shop.surveys.forms import BeamForm, WallForm
from shop.surveys.models import Beam, Survey, Wall
from shop.surveys.views.common import GET_POST, sent
from shop.surveys.views.editing import (
    Edit,
    answer,
    survey_of,
    ways_out,
)


def _following(survey: Survey, wall: Wall) -> Wall:
    """Return the wall after another one; after the last comes the first."""
    walls = list(survey.walls.all())
    places = [n for n, other in enumerate(walls) if other.pk == wall.pk]
    if not places:
        raise Http404
    return walls[(places[0] + 1) % len(walls)]


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def wall_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change a wall's reading, its corner and what it is made of."""
    wall = get_object_or_404(Wall.objects.standing().with_survey(), pk=pk)
    survey = survey_of(wall.survey_id)
    title = f"Wall {wall.name}"
    form = WallForm(sent(request), instance=wall, after=_following(survey, wall))

    def store() -> None:
        changed = form.save(commit=False)
        actions.change_wall(changed, by=me(request), at=timezone.now())

    return answer(request, Edit("walls", survey, form, title, store))


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def wall_new(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put a new wall into the walk, after the one in the address."""
    before = get_object_or_404(Wall.objects.standing(), pk=pk)
    survey = survey_of(before.survey_id)
    new = Wall(
        survey=survey,
        position=before.position + 1,
        name=free_name(survey),
        construction=before.construction,
    )
    form = WallForm(sent(request), instance=new, after=_following(survey, before))

    def store() -> None:
        wall = form.save(commit=False)
        actions.add_wall(wall, after=before, by=me(request), at=timezone.now())

    title = f"A new wall after {before.name}"
    return answer(request, Edit("walls", survey, form, title, store))


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def beam_new(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Add a beam or soffit to a survey."""
    survey = survey_of(pk)
    form = BeamForm(sent(request), instance=Beam(survey=survey))
    return answer(request, _beam_edit(request, survey, form, "A beam or soffit"))


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def beam_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change a beam or soffit."""
    beam = get_object_or_404(Beam.objects.standing(), pk=pk)
    form = BeamForm(sent(request), instance=beam)
    title = str(beam).capitalize()
    return answer(request, _beam_edit(request, survey_of(beam.survey_id), form, title))


def _beam_edit(
    request: HttpRequest, survey: Survey, form: BeamForm, title: str
) -> Edit:
    def store() -> None:
        beam = form.save(commit=False)
        actions.store_beam(beam, by=me(request), at=timezone.now())

    return Edit("beams", survey, form, title, store)


wall_remove, wall_restore = ways_out(Wall, "walls", "wall")
beam_remove, beam_restore = ways_out(Beam, "beams", "beam")
