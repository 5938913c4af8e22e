"""Found studs and joists of a survey, added, changed and taken out within its page."""

from __future__ import annotations

import uuid

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from shared.access import Right, needs
from shop.people.me import me
from shop.surveys import actions
from shop.surveys.forms import MemberForm
from shop.surveys.models import Member, Survey
from shop.surveys.views.common import GET_POST, asked_wall, sent
from shop.surveys.views.editing import (
    Edit,
    answer,
    survey_of,
    ways_out,
)


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def member_new(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Add a found stud or joist, on the wall of ?wall= unless another is chosen."""
    survey = survey_of(pk)
    member, wall = Member(survey=survey), asked_wall(request, survey)
    form = MemberForm(
        sent(request), instance=member, survey=survey, initial={"wall": wall}
    )
    return answer(request, _edit(request, survey, form, "A stud or joist"))


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def member_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change a found stud or joist."""
    member = get_object_or_404(Member.objects.standing(), pk=pk)
    survey = survey_of(member.survey_id)
    title = str(member).capitalize()
    form = MemberForm(sent(request), instance=member, survey=survey)
    return answer(request, _edit(request, survey, form, title))


def _edit(request: HttpRequest, survey: Survey, form: MemberForm, title: str) -> Edit:
    def store() -> None:
        member = form.save(commit=False)
        actions.store_member(member, by=me(request), at=timezone.now())

    return Edit("members", survey, form, title, store)


member_remove, member_restore = ways_out(Member, "members", "member")
