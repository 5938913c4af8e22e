"""Page or fragment, and the headers of htmx: named here and nowhere else."""

from __future__ import annotations

import json
from typing import Any, cast

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.cache import patch_vary_headers
from django_htmx.middleware import HtmxDetails


def wants_fragment(request: HttpRequest) -> bool:
    """Whether htmx asked for a part; boosted and restored pages want the whole."""
    htmx = cast("HtmxDetails", request.htmx)  # type: ignore[attr-defined]
    return bool(htmx) and not htmx.boosted and not htmx.history_restore_request


def page_or_fragment(
    request: HttpRequest,
    *,
    page: str,
    fragment: str,
    context: dict[str, Any],
    status: int = 200,
) -> HttpResponse:
    """Render the page, or the fragment of it that htmx asked for."""
    template = fragment if wants_fragment(request) else page
    response = render(request, template, context, status=status)
    patch_vary_headers(response, ("HX-Request",))
    return response


def done(request: HttpRequest, to: str) -> HttpResponse:
    """After a successful POST: a redirect, told to htmx in its own way."""
    if wants_fragment(request):
        response = HttpResponse(status=204)
        response["HX-Redirect"] = to
        return response
    return redirect(to)


def trigger(response: HttpResponse, event: str, detail: Any = None) -> HttpResponse:
    """Raise an event on the page after the swap, for listeners to refetch."""
    events = json.loads(response.headers.get("HX-Trigger", "{}"))
    events[event] = detail
    response["HX-Trigger"] = json.dumps(events)
    return response
