"""What devices ask for: to be rid of what they wrote, a token, a page to be alone with."""

from __future__ import annotations

import hashlib
from typing import Any

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.core.exceptions import SuspiciousOperation
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.http.multipartparser import MultiPartParserError
from django.http.request import RawPostDataException
from django.middleware.csrf import get_token
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.csrf import csrf_failure
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_GET, require_POST

from shared.files.pictures import MOST_BYTES
from shared.offline import worker
from shared.offline.actions import answer_batch, store_picture
from shared.offline.batch import (
    Batch,
    ItemError,
    JunkError,
    key_of,
    read_batch,
    read_item,
)


def _say(status: int, error: str, sentence: str, **more: Any) -> JsonResponse:
    return JsonResponse({"error": error, "sentence": sentence} | more, status=status)


@never_cache
@login_not_required
@require_POST
def writes(request: HttpRequest) -> HttpResponse:
    """Take a batch of writes; answer each by its key. Never redirects."""
    if not request.user.is_authenticated:
        return _say(401, "signed_out", "Sign in; what is kept here is sent then.")
    try:
        batch = _batch(request)
    except JunkError as junk:
        return _say(400, "junk", str(junk))
    if batch.person != str(request.user.pk):
        # A page left open by somebody else would send in this person's name.
        return _say(401, "somebody_else", "Somebody else is signed in here now.")
    answers = answer_batch(batch, by=request.user, at=timezone.now())
    return JsonResponse({"answers": answers})


@never_cache
@login_not_required
@require_POST
def pictures(request: HttpRequest) -> HttpResponse:
    """Take one picture with its item; answer as for any other write."""
    if not request.user.is_authenticated:
        return _say(401, "signed_out", "Sign in; what is kept here is sent then.")
    try:
        batch, data = _picture(request)
        item = read_item(batch.items[0] | {"value": hashlib.sha256(data).hexdigest()})
    except JunkError as junk:
        return _say(400, "junk", str(junk))
    except ItemError as wrong:
        return _say(400, "junk", wrong.sentence)
    if batch.person != str(request.user.pk):
        return _say(401, "somebody_else", "Somebody else is signed in here now.")
    answer = store_picture(item, data, by=request.user, at=timezone.now())
    return JsonResponse({"answers": [{"key": key_of(batch.items[0])} | answer]})


def _picture(request: HttpRequest) -> tuple[Batch, bytes]:
    try:
        text, file = request.POST.get("batch", ""), request.FILES.get("file")
    except (MultiPartParserError, SuspiciousOperation):
        raise JunkError("This is no picture with its item.") from None
    batch = read_batch(text.encode())
    if file is None or len(batch.items) != 1:
        raise JunkError("Send one picture with one item.")
    if (file.size or 0) > MOST_BYTES:
        raise JunkError("This picture is too large: send at most 12 MB.")
    return batch, file.read()


def _batch(request: HttpRequest) -> Batch:
    # Django refuses to read beyond DATA_UPLOAD_MAX_MEMORY_SIZE by an exception.
    length = request.META.get("CONTENT_LENGTH") or "0"
    if not length.isdigit() or int(length) > settings.DATA_UPLOAD_MAX_MEMORY_SIZE:
        raise JunkError("This is too much at once. Send fewer at a time.")
    try:
        return read_batch(request.body)
    except RawPostDataException:
        raise JunkError("This is not JSON.") from None


@never_cache
@login_not_required
@require_GET
def token(request: HttpRequest) -> HttpResponse:
    """Give a fresh token, and who is signed in."""
    person = str(request.user.pk) if request.user.is_authenticated else ""
    return JsonResponse({"token": get_token(request), "person": person})


def csrf_failed(request: HttpRequest, reason: str = "") -> HttpResponse:
    """Tell a device's queue where a fresh token is; tell a person as Django does."""
    if request.path not in {
        reverse("shared:offline-writes"),
        reverse("shared:offline-pictures"),
    }:
        return csrf_failure(request, reason=reason)
    return _say(
        403,
        "token",
        "The page is too old to send from; a fresh token is needed.",
        token_url=reverse("shared:offline-token"),
    )


@never_cache
@login_not_required
@require_GET
def device(request: HttpRequest) -> HttpResponse:
    """Show what is kept on this device. The page itself holds nobody's data."""
    return render(request, "shared/offline/device.html")


@login_not_required
@require_GET
def service_worker(request: HttpRequest) -> HttpResponse:
    """Give the service worker, which belongs to the whole site."""
    response = HttpResponse(worker.script(), content_type="text/javascript")
    response["Service-Worker-Allowed"] = "/"
    response["Cache-Control"] = "no-cache"
    return response
