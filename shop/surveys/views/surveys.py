"""Surveys: begin the first or the next one, show one, change its ceiling and notes."""

from __future__ import annotations

import uuid
from typing import Any

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from shared.access import Right, may, needs
from shared.conventions import today
from shared.forms import typed
from shared.htmx import page_or_fragment
from shared.notices import say
from shop.people.me import me
from shop.surveys import actions
from shop.surveys.adapter import rectangle_walls
from shop.surveys.forms import FirstSurveyForm, NextSurveyForm, SurveyForm
from shop.surveys.models import Room, Survey
from shop.surveys.reports.pages import survey_page
from shop.surveys.views.common import GET_POST, refuse, sent


def _survey(pk: uuid.UUID) -> Survey:
    return get_object_or_404(Survey.objects.with_room().with_parts(), pk=pk)


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


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def survey_new(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Begin a room's first survey by three numbers, or its next one from the last."""
    room: Room = get_object_or_404(Room.objects.with_site(), pk=pk)
    latest = room.surveys.newest_first().first()
    now = timezone.now()
    survey = Survey(room=room, measured_on=today(now), measured_by=me(request))
    first = {"follows": latest.revision if latest else 0, "use": room.use}
    kind = NextSurveyForm if latest else FirstSurveyForm
    form = kind(sent(request), instance=survey, initial=first)
    if request.method == "POST" and form.is_valid():
        try:
            begun = _begin(form, latest, by=me(request), at=now)
        except ValidationError as refused:
            refuse(form, refused)
        else:
            say(request, f"Survey {begun.revision} of {room} is begun.")
            return redirect(begun)
    context = {"form": form, "room": room, "latest": latest}
    return render(request, "shop/surveys/survey_new.html", context, status=form.status)


def _begin(
    form: FirstSurveyForm | NextSurveyForm, latest: Survey | None, **who: Any
) -> Survey:
    survey = form.save(commit=False)
    if latest is not None:
        return actions.repeat_survey(survey, follows=latest, **who)
    length, width = typed(form, "length"), typed(form, "width")
    if length is None or width is None:
        raise ValidationError("Type the length and the width of the room.")
    walls = rectangle_walls(
        survey,
        length=length,
        width=width,
        construction=form.cleaned_data["walls_made_of"],
    )
    return actions.start_survey(survey, walls, use=form.cleaned_data["use"], **who)


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
