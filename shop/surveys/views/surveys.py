"""Surveys: begin the first or the next one, show one, change its ceiling and notes."""

from __future__ import annotations

import uuid
from typing import Any

from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from shared.access import Right, may, needs
from shared.conventions import today
from shared.files.views import pdf_response
from shared.forms import typed
from shared.htmx import page_or_fragment
from shared.notices import say
from shop.people.me import me
from shop.people.reports import profile
from shop.surveys import actions, documents
from shop.surveys.adapter import rectangle_walls, shaped_walls, sketch_of
from shop.surveys.engine import SHAPES, RoomShape
from shop.surveys.forms import (
    FirstSurveyForm,
    NextSurveyForm,
    ShapedSurveyForm,
    SurveyForm,
)
from shop.surveys.models import Room, Survey
from shop.surveys.reports.pages import survey_page
from shop.surveys.views.common import GET_POST, refuse, sent


def _survey(pk: uuid.UUID) -> Survey:
    return get_object_or_404(Survey.objects.with_room().with_inside(), pk=pk)


def _revision(request: HttpRequest) -> int | None:
    """Return the revision to compare with, when one is asked for in numbers."""
    asked = request.GET.get("against", "")
    return (
        int(asked) if asked.isascii() and asked.isdigit() and len(asked) < 6 else None
    )


@require_GET
def survey(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show a survey; the fragment is what follows from its readings."""
    shown = _survey(pk)
    page = survey_page(shown, against_revision=_revision(request))
    context = {
        "page": page,
        "sheet": page.sheet,
        "survey": shown,
        "may_change": may(request.user, Right.SURVEY) and page.later is None,
        "may_survey": may(request.user, Right.SURVEY),
    }
    return page_or_fragment(
        request,
        page="shop/surveys/survey.html",
        fragment="shop/surveys/_told.html",
        context=context,
    )


@require_GET
def survey_paper(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show a survey as a paper: drawings and readings."""
    pdf = documents.survey_sheet_pdf(_survey(pk), profile=profile())
    return _pdf(pdf, "survey-sheet")


@require_GET
def survey_blank(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show a blank sheet for a room, to be filled in with a pencil."""
    room: Room = get_object_or_404(Room.objects.with_site(), pk=pk)
    return _pdf(documents.blank_sheet_pdf(room, profile=profile()), "blank-survey")


def _pdf(content: bytes, name: str) -> HttpResponse:
    return pdf_response(content, name=f"{name}.pdf")


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def survey_new(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Begin a room's first survey by three numbers, or its next one from the last."""
    room: Room = get_object_or_404(Room.objects.with_site(), pk=pk)
    latest = room.surveys.newest_first().first()
    now = timezone.now()
    survey = Survey(room=room, measured_on=today(now), measured_by=me(request))
    first = {"follows": latest.revision if latest else 0, "use": room.use}
    shape = None if latest else _shape(request)
    typed_for_another = _typed_for_another(request)
    form = _new_form(
        latest,
        shape,
        data=None if typed_for_another else sent(request),
        instance=survey,
        initial=first | typed_for_another,
    )
    if form.is_bound and form.is_valid():
        try:
            begun = _begin(form, latest, by=me(request), at=now)
        except ValidationError as refused:
            refuse(form, refused)
        else:
            say(request, f"Survey {begun.revision} of {room} is begun.")
            return redirect(begun)
    context = {
        "form": form,
        "room": room,
        "latest": latest,
        "shape": shape,
        "shapes": SHAPES.values(),
        "sketch": sketch_of(shape) if shape else "",
        "here": request.get_full_path(),
    }
    return page_or_fragment(
        request,
        page="shop/surveys/survey_new.html",
        fragment="shop/surveys/_survey_new.html",
        context=context,
        status=form.status,
    )


def _typed_for_another(request: HttpRequest) -> dict[str, Any]:
    """Return what was typed before another shape was asked for; it is not sent yet."""
    if "other_shape" not in request.POST:
        return {}
    return {name: value for name, value in request.POST.items() if value}


def _shape(request: HttpRequest) -> RoomShape | None:
    """Return the shape asked for; nothing for a rectangle, 404 for one unknown."""
    asked = request.GET.get("shape", "")
    if asked and asked not in SHAPES:
        raise Http404
    return SHAPES.get(asked)


def _new_form(
    latest: Survey | None, shape: RoomShape | None, **fields: Any
) -> FirstSurveyForm | NextSurveyForm:
    if latest is not None:
        return NextSurveyForm(**fields)
    return (
        ShapedSurveyForm(shape=shape, **fields) if shape else FirstSurveyForm(**fields)
    )


def _begin(
    form: FirstSurveyForm | NextSurveyForm, latest: Survey | None, **who: Any
) -> Survey:
    survey = form.save(commit=False)
    if latest is not None:
        return actions.repeat_survey(survey, follows=latest, **who)
    made_of, use = form.cleaned_data["walls_made_of"], form.cleaned_data["use"]
    if isinstance(form, ShapedSurveyForm):
        walls = shaped_walls(
            survey,
            form.shape,
            form.lengths(),
            inside_millidegrees=form.inside_millidegrees,
            construction=made_of,
        )
        return actions.start_survey(survey, walls, use=use, **who)
    length, width = typed(form, "length"), typed(form, "width")
    if length is None or width is None:
        raise ValidationError("Type the length and the width of the room.")
    walls = rectangle_walls(
        survey,
        length=length,
        width=width,
        construction=made_of,
    )
    return actions.start_survey(survey, walls, use=use, **who)


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def survey_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change a survey's ceiling, its notes, who measured and when."""
    stored = _survey(pk)
    form = SurveyForm(
        sent(request), instance=_survey(pk), initial={"use": stored.room.use}
    )
    if request.method == "POST" and form.is_valid():
        use = form.cleaned_data["use"]
        changed = form.save(commit=False)
        try:
            actions.change_survey(changed, use=use, by=me(request), at=timezone.now())
        except ValidationError as refused:
            refuse(form, refused)
        else:
            say(request, "Stored.")
            return redirect(stored)
    context = {"form": form, "survey": stored}
    return render(request, "shop/surveys/survey_form.html", context, status=form.status)
