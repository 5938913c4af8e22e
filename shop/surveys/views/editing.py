"""What is shared by the pages that write one part of a survey, or take one out."""

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
from django.views.decorators.http import require_POST

from shared.access import Right, needs
from shared.forms import PlainForm, PlainModelForm
from shared.htmx import done, page_or_fragment, trigger, wants_fragment
from shared.notices import say
from shop.people.me import me
from shop.surveys import actions
from shop.surveys.models import Survey, Wall
from shop.surveys.reports.pages import survey_sheet
from shop.surveys.views.common import refuse

View = Callable[..., HttpResponse]

CHANGED = "surveyChanged"
"""The event on which the page asks again for what follows from the readings."""


@dataclass(frozen=True)
class Edit:
    """One part being written: where on the page, its form, and how it is stored."""

    part: str
    survey: Survey
    form: PlainForm | PlainModelForm
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


def survey_of(pk: uuid.UUID) -> Survey:
    """Return a survey with its room and parts, or answer 404."""
    return get_object_or_404(Survey.objects.with_room().with_inside(), pk=pk)


def _list(request: HttpRequest, edit: Edit, *, open_form: bool) -> dict[str, Any]:
    return {
        "sheet": survey_sheet(edit.survey),
        "survey": edit.survey,
        "may_change": True,
        "edit": edit if open_form else None,
        "form": edit.form if open_form else None,
        "here": request.get_full_path(),
    }


def answer(request: HttpRequest, edit: Edit) -> HttpResponse:
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
    fresh = survey_of(survey.pk)
    context = {
        "sheet": survey_sheet(fresh),
        "survey": fresh,
        "may_change": True,
        "changed": True,
    }
    shown = render(request, f"shop/surveys/_{part}.html", context)
    return trigger(shown, CHANGED)


def take_out(
    request: HttpRequest, part: actions.Part, where: str, name: str
) -> HttpResponse:
    """Take a part out, with a way back."""
    survey = actions.survey_of(part)
    try:
        actions.take_out(part, by=me(request), at=timezone.now())
    except ValidationError as refused:
        return _kept(request, survey, refused)
    undo = reverse(f"shop:{name}-restore", args=(part.pk,))
    say(request, f"{_label(part)} is taken out.", undo=undo)
    return _shown_again(request, where, survey)


def put_back(request: HttpRequest, part: actions.Part, where: str) -> HttpResponse:
    """Put a part back that was taken out."""
    survey = actions.survey_of(part)
    try:
        actions.put_back(part, by=me(request), at=timezone.now())
    except ValidationError as refused:
        return _kept(request, survey, refused)
    say(request, f"{_label(part)} is back.")
    return _shown_again(request, where, survey)


def ways_out(kind: type[actions.Part], where: str, name: str) -> tuple[View, View]:
    """Give the two views of a kind of part: one takes it out, the other puts it back."""
    rows: Any = kind._default_manager

    @needs(Right.SURVEY)
    @require_POST
    def remove(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
        part = get_object_or_404(rows.standing().with_survey(), pk=pk)
        return take_out(request, part, where, name)

    @needs(Right.SURVEY)
    @require_POST
    def restore(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
        return put_back(request, get_object_or_404(rows.with_survey(), pk=pk), where)

    return remove, restore


def _label(part: actions.Part) -> str:
    label = f"wall {part}" if isinstance(part, Wall) else str(part)
    return label[:1].upper() + label[1:]


def _kept(
    request: HttpRequest, survey: Survey, refused: ValidationError
) -> HttpResponse:
    """Say why a part of an older survey stays as it is."""
    if wants_fragment(request):
        messages.error(request, refused.messages[0])
        return done(request, survey.get_absolute_url())
    context = {"survey": survey, "why": refused.messages[0]}
    return render(request, "shop/surveys/kept.html", context, status=422)
