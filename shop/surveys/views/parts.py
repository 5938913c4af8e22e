"""A survey's parts: walls, openings and zones, added and changed within its page."""

from __future__ import annotations

import uuid
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from shared.access import Right, needs
from shared.htmx import done, page_or_fragment, trigger, wants_fragment
from shared.notices import say
from shop.people.me import me
from shop.surveys import actions
from shop.surveys.forms import OpeningForm, WallForm, ZoneForm
from shop.surveys.models import Opening, Survey, Wall, Zone
from shop.surveys.reports.pages import survey_sheet
from shop.surveys.views.common import GET_POST, refuse, sent

CHANGED = "surveyChanged"
"""The event on which the page asks again for what follows from the readings."""


@dataclass(frozen=True)
class Edit:
    """One part being written: where on the page, its form, and how it is stored."""

    part: str
    survey: Survey
    form: WallForm | OpeningForm | ZoneForm
    title: str
    store: Callable[[], object]

    @property
    def template(self) -> str:
        """The fragment of the page that it belongs to."""
        return f"shop/surveys/_{self.part}.html"

    @property
    def form_template(self) -> str:
        """The fields, as the page and the fragment both show them."""
        return f"shop/surveys/_{self.part}_form.html"


def _survey(pk: uuid.UUID) -> Survey:
    return get_object_or_404(Survey.objects.with_room().with_parts(), pk=pk)


def _list(request: HttpRequest, edit: Edit, *, open_form: bool) -> dict[str, Any]:
    return {
        "sheet": survey_sheet(edit.survey),
        "survey": edit.survey,
        "may_change": True,
        "edit": edit if open_form else None,
        "form": edit.form if open_form else None,
        "here": request.get_full_path(),
    }


def _answer(request: HttpRequest, edit: Edit) -> HttpResponse:
    """Show the form, or store what it says: as a page, or in its place on the page."""
    if request.method == "POST" and edit.form.is_valid():
        try:
            edit.store()
        except ValidationError as refused:
            refuse(edit.form, refused)
        else:
            say(request, f"{edit.title}: stored.")
            return _shown_again(request, edit.part, edit.survey)
    return page_or_fragment(
        request,
        page="shop/surveys/part_form.html",
        fragment=edit.template,
        context=_list(request, edit, open_form=True),
        status=edit.form.status,
    )


def _shown_again(request: HttpRequest, part: str, survey: Survey) -> HttpResponse:
    if not wants_fragment(request):
        return redirect(f"{survey.get_absolute_url()}#{part}")
    fresh = _survey(survey.pk)
    context = {
        "sheet": survey_sheet(fresh),
        "survey": fresh,
        "may_change": True,
        "changed": True,
    }
    answer = render(request, f"shop/surveys/_{part}.html", context)
    return trigger(answer, CHANGED)


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def wall_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change a wall's reading and what it is made of."""
    wall = get_object_or_404(Wall.objects.select_related("survey__room"), pk=pk)
    form = WallForm(sent(request), instance=wall)

    def store() -> None:
        changed = form.save(commit=False)
        actions.change_wall(changed, by=me(request), at=timezone.now())

    survey = _survey(wall.survey_id)
    return _answer(request, Edit("walls", survey, form, f"Wall {wall.name}", store))


def _asked_wall(request: HttpRequest, survey: Survey) -> Wall | None:
    """Return the wall of the survey that the address names, if it does."""
    asked = request.GET.get("wall", "")
    return next((wall for wall in survey.walls.all() if str(wall.pk) == asked), None)


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def opening_new(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Add an opening to a survey, on the wall of ?wall= unless another is chosen."""
    survey = _survey(pk)
    opening, wall = Opening(), _asked_wall(request, survey)
    form = OpeningForm(
        sent(request), instance=opening, survey=survey, initial={"wall": wall}
    )
    return _answer(request, _opening_edit(request, survey, form, "A new opening"))


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def opening_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change an opening and its readings."""
    opening = get_object_or_404(
        Opening.objects.standing().select_related("wall"), pk=pk
    )
    survey = _survey(opening.wall.survey_id)
    form = OpeningForm(sent(request), instance=opening, survey=survey)
    return _answer(request, _opening_edit(request, survey, form, str(opening)))


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
@require_POST
def opening_remove(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take an opening out, with a way back."""
    opening = get_object_or_404(Opening.objects.standing().with_survey(), pk=pk)
    return _take_out(request, opening, opening.wall.survey, "openings", "opening")


@needs(Right.SURVEY)
@require_POST
def opening_restore(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put an opening back."""
    opening = get_object_or_404(Opening.objects.with_survey(), pk=pk)
    return _put_back(request, opening, opening.wall.survey, "openings")


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def zone_new(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Add a place to keep clear, on the wall of ?wall= unless another is chosen."""
    survey = _survey(pk)
    zone, wall = Zone(survey=survey), _asked_wall(request, survey)
    form = ZoneForm(sent(request), instance=zone, survey=survey, initial={"wall": wall})
    return _answer(request, _zone_edit(request, survey, form, "A place to keep clear"))


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def zone_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change a place to keep clear."""
    zone = get_object_or_404(Zone.objects.standing(), pk=pk)
    survey = _survey(zone.survey_id)
    form = ZoneForm(sent(request), instance=zone, survey=survey)
    return _answer(request, _zone_edit(request, survey, form, str(zone)))


def _zone_edit(
    request: HttpRequest, survey: Survey, form: ZoneForm, title: str
) -> Edit:
    def store() -> None:
        zone = form.save(commit=False)
        actions.store_zone(zone, by=me(request), at=timezone.now())

    return Edit("zones", survey, form, title[:1].upper() + title[1:], store)


@needs(Right.SURVEY)
@require_POST
def zone_remove(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take a zone out, with a way back."""
    zone = get_object_or_404(Zone.objects.standing().with_survey(), pk=pk)
    return _take_out(request, zone, zone.survey, "zones", "zone")


@needs(Right.SURVEY)
@require_POST
def zone_restore(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put a zone back."""
    zone = get_object_or_404(Zone.objects.with_survey(), pk=pk)
    return _put_back(request, zone, zone.survey, "zones")


def _take_out(
    request: HttpRequest, part: Opening | Zone, survey: Survey, where: str, name: str
) -> HttpResponse:
    try:
        actions.take_out(part, by=me(request), at=timezone.now())
    except ValidationError as refused:
        return _kept(request, survey, refused)
    undo = reverse(f"shop:{name}-restore", args=(part.pk,))
    label = str(part)
    say(request, f"{label[:1].upper()}{label[1:]} is taken out.", undo=undo)
    return _shown_again(request, where, survey)


def _put_back(
    request: HttpRequest, part: Opening | Zone, survey: Survey, where: str
) -> HttpResponse:
    try:
        actions.put_back(part, by=me(request), at=timezone.now())
    except ValidationError as refused:
        return _kept(request, survey, refused)
    label = str(part)
    say(request, f"{label[:1].upper()}{label[1:]} is back.")
    return _shown_again(request, where, survey)


def _kept(
    request: HttpRequest, survey: Survey, refused: ValidationError
) -> HttpResponse:
    """Say why a part of an older survey stays as it is."""
    if wants_fragment(request):
        messages.error(request, refused.messages[0])
        return done(request, survey.get_absolute_url())
    context = {"survey": survey, "why": refused.messages[0]}
    return render(request, "shop/surveys/kept.html", context, status=422)
