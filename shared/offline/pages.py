"""Pages that a device keeps, to be opened with no network by whoever opened them last."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar, cast

from django.http import HttpRequest, HttpResponseBase

HEADER = "X-Offline-Page"

View = TypeVar("View", bound=Callable[..., HttpResponseBase])


def kept_on_device(view: View) -> View:
    """Let the service worker keep the page, apart for each person."""

    @wraps(view)
    def kept(request: HttpRequest, *args: object, **kwargs: object) -> HttpResponseBase:
        response = view(request, *args, **kwargs)
        if response.status_code == 200 and request.user.is_authenticated:
            response[HEADER] = str(request.user.pk)
        return response

    return cast("View", kept)
