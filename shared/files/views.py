"""Answer with a stored file's bytes, for views that have checked access."""

from __future__ import annotations

from django.http import HttpResponse
from django.utils.http import content_disposition_header

from shared.files.models import StoredFile


def file_response(file: StoredFile, *, inline: bool = True) -> HttpResponse:
    """Answer with a file, never cached by anybody between."""
    response = HttpResponse(file.read(), content_type=file.content_type)
    return _named(response, file.name, inline=inline)


def pdf_response(data: bytes, *, name: str) -> HttpResponse:
    """Answer with a PDF made just now."""
    response = HttpResponse(data, content_type="application/pdf")
    return _named(response, name, inline=True)


def _named(response: HttpResponse, name: str, *, inline: bool) -> HttpResponse:
    header = content_disposition_header(as_attachment=not inline, filename=name)
    response["Content-Disposition"] = header or ""
    return no_store(response)


def no_store(response: HttpResponse) -> HttpResponse:
    """Let nobody keep a copy, and no browser guess what it is."""
    response["Cache-Control"] = "private, no-store"
    response["X-Content-Type-Options"] = "nosniff"
    return response
