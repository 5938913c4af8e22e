"""What is in a room, written within its survey's page: finishes, furniture, places."""

from __future__ import annotations

import uuid

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from shared.access import Right, needs
from shop.people.me import me
from shop.surveys.actions import inside as actions
from shop.surveys.engine.presets import PRESETS
from shop.surveys.forms.inside import (
    CoveringForm,
    FurnitureForm,
    PresetForm,
    SpotForm,
)
from shop.surveys.models import Covering, Spot, Survey
from shop.surveys.views.common import GET_POST, sent
from shop.surveys.views.editing import (
    Edit,
    answer,
    survey_of,
    ways_out,
)


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def preset(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Finish a whole room like others of its kind."""
    survey = survey_of(pk)
    use = survey.room.use
    form = PresetForm(
        sent(request), initial={"preset": use if use in PRESETS else "plain"}
    )

    def store() -> None:
        key = form.cleaned_data["preset"]
        actions.finish_room(survey, PRESETS[key], by=me(request), at=timezone.now())

    return answer(request, Edit("coverings", survey, form, "Finishes", store))


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def covering_new(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Add a finish to a surface, that of ?where= unless another is chosen."""
    survey = survey_of(pk)
    covering = Covering(survey=survey)
    first = {"where": request.GET.get("where", "")}
    form = CoveringForm(sent(request), instance=covering, survey=survey, initial=first)
    return answer(request, _covering(request, survey, form, "A finish"))


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def covering_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change a finish, what it lies on or its size."""
    covering = get_object_or_404(Covering.objects.standing(), pk=pk)
    survey = survey_of(covering.survey_id)
    form = CoveringForm(sent(request), instance=covering, survey=survey)
    return answer(request, _covering(request, survey, form, "The finish"))


def _covering(
    request: HttpRequest, survey: Survey, form: CoveringForm, title: str
) -> Edit:
    def store() -> None:
        row = form.save(commit=False)
        actions.store_covering(row, by=me(request), at=timezone.now())

    return Edit("coverings", survey, form, title, store)


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def furniture(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Count what stands and sits in a room."""
    survey = survey_of(pk)
    form = FurnitureForm(sent(request), survey=survey)

    def store() -> None:
        actions.count_furniture(
            survey, form.counts(), by=me(request), at=timezone.now()
        )

    return answer(
        request, Edit("furniture", survey, form, "People and furniture", store)
    )


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def spot_new(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Add a place in the room."""
    survey = survey_of(pk)
    form = SpotForm(sent(request), instance=Spot(survey=survey))
    return answer(request, _spot(request, survey, form, "A place"))


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def spot_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change a place in the room."""
    spot = get_object_or_404(Spot.objects.standing(), pk=pk)
    survey = survey_of(spot.survey_id)
    form = SpotForm(sent(request), instance=spot)
    title = str(spot)[:1].upper() + str(spot)[1:]
    return answer(request, _spot(request, survey, form, title))


def _spot(request: HttpRequest, survey: Survey, form: SpotForm, title: str) -> Edit:
    def store() -> None:
        row = form.save(commit=False)
        actions.store_spot(row, by=me(request), at=timezone.now())

    return Edit("spots", survey, form, title, store)


covering_remove, covering_restore = ways_out(Covering, "coverings", "covering")
spot_remove, spot_restore = ways_out(Spot, "spots", "spot")
