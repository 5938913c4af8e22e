"""What the pages of rooms and surveys share."""

from __future__ import annotations

from typing import Any

from django.core.exceptions import ValidationError
from django.forms import BaseForm
from django.http import HttpRequest

from shop.surveys.models import Survey, Wall

GET_POST = ["GET", "HEAD", "POST"]


def sent(request: HttpRequest) -> Any:
    """Return what was typed; nothing before the form is sent, even empty."""
    return request.POST if request.method == "POST" else None


def refuse(form: BaseForm, refused: ValidationError) -> None:
    """Put an action's refusal beside its fields, or at the head of the form."""
    by_field = refused.error_dict if hasattr(refused, "error_dict") else {"": [refused]}
    for name, errors in by_field.items():
        for error in errors:
            form.add_error(name if name in form.fields else None, error)


def asked_wall(request: HttpRequest, survey: Survey) -> Wall | None:
    """Return the wall of the survey that the address names, if it does."""
    asked = request.GET.get("wall", "")
    return next((wall for wall in survey.walls.all() if str(wall.pk) == asked), None)
