"""HTML to PDF bytes: tagged for screen readers (PDF/UA-1), from listed local files only.

The one place that imports weasyprint. A PDF's template extends ``shared/pdf/base_pdf.html``
and names stylesheets and pictures relative to the page: ``static/...`` is looked up among
the static files, ``files/<name>`` among those that the caller hands over; nothing else is
opened, neither on this machine nor on the network.
"""

from __future__ import annotations

import mimetypes
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import unquote

from django.contrib.staticfiles import finders
from django.core.exceptions import SuspiciousFileOperation
from django.template.loader import render_to_string
from weasyprint import HTML, Document
from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

from shared.conventions import current

# Reserved for such use (RFC 2606): it resolves nowhere.
BASE = "https://cleatbook.invalid/"
STATIC_SUFFIXES = frozenset({".css", ".woff2", ".svg", ".png"})
VARIANT = "pdf/ua-1"
NEARLY_EMPTY = 0.35
"""Filled by less than this part, a last page looks like a mistake."""
CONTENT_TYPES = {".css": "text/css", ".woff2": "font/woff2", ".svg": "image/svg+xml"}

Files = Mapping[str, Path | bytes]


class PdfError(Exception):
    """A document asked for a file that it may not have."""


@dataclass(frozen=True, slots=True)
class Letterhead:
    """What stands at the head of the shop's papers."""

    name: str
    strapline: str = ""
    lines: tuple[str, ...] = ()
    invented: bool = False


def render_html(template: str, context: Mapping[str, Any]) -> str:
    """Render a PDF's template; pages' own context processors have no part in it."""
    return render_to_string(template, {"paper": current().paper, **context})


def render_pdf(
    template: str,
    context: Mapping[str, Any],
    *,
    files: Files | None = None,
    spare_a_page: bool = False,
) -> bytes:
    """Render a template as a tagged PDF; slow, so never inside a transaction.

    ``files`` are the pictures that the template may show, by the name after ``files/``.
    ``spare_a_page`` sets a paper whose last page would be nearly empty closer, and keeps
    that if it spares the page.
    """
    document = _laid_out(render_html(template, context), files)
    if spare_a_page and _ends_nearly_empty(document):
        closer = _laid_out(render_html(template, {**context, "closer": True}), files)
        if len(closer.pages) < len(document.pages):
            document = closer
    return _written(document)


def html_to_pdf(html: str, *, files: Files | None = None) -> bytes:
    """Turn whole HTML into PDF bytes; refuses any file or address that is not listed."""
    return _written(_laid_out(html, files))


def _laid_out(html: str, files: Files | None) -> Document:
    source = HTML(
        string=html, base_url=BASE, url_fetcher=_ListedFiles(dict(files or {}))
    )
    try:
        return source.render(pdf_variant=VARIANT)
    except FatalURLFetchingError as refused:
        raise PdfError(str(refused)) from refused


def _written(document: Document) -> bytes:
    try:
        pdf: bytes = document.write_pdf(pdf_variant=VARIANT)
    except FatalURLFetchingError as refused:
        raise PdfError(str(refused)) from refused
    return pdf


def _ends_nearly_empty(document: Document) -> bool:
    """Whether the last of several pages is filled by less than a part."""
    # WeasyPrint tells how far a page is filled by its boxes alone, which it keeps private.
    page = document.pages[-1]._page_box
    filled: float = page.children[0].height / page.height
    return len(document.pages) > 1 and filled < NEARLY_EMPTY


class _ListedFiles(URLFetcher):  # type: ignore[misc]
    """Opens static files and the files handed over; anything else stops the document."""

    def __init__(self, files: dict[str, Path | bytes]) -> None:
        super().__init__(allowed_protocols=("https",), allow_redirects=False)
        self._files = files

    def fetch(
        self, url: str, headers: Mapping[str, str] | None = None
    ) -> URLFetcherResponse:
        """Return the bytes of a listed file; ``headers`` would be for a network."""
        name = unquote(url.removeprefix(BASE).split("?")[0].split("#")[0])
        if not url.startswith(BASE):
            raise FatalURLFetchingError(f"A document may not open {url[:200]!r}.")
        kind, _, rest = name.partition("/")
        body = _static(rest) if kind == "static" else self._handed_over(kind, rest)
        if body is None:
            raise FatalURLFetchingError(
                f"A document asks for {name[:200]!r}: not listed."
            )
        suffix = Path(name).suffix
        content_type = CONTENT_TYPES.get(suffix) or mimetypes.guess_type(name)[0]
        return URLFetcherResponse(
            url, body, {"Content-Type": content_type or "application/octet-stream"}
        )

    def _handed_over(self, kind: str, name: str) -> bytes | None:
        found = self._files.get(name) if kind == "files" else None
        return found.read_bytes() if isinstance(found, Path) else found


def _static(name: str) -> bytes | None:
    """Return the bytes of a static file of a kind that documents use."""
    if Path(name).suffix not in STATIC_SUFFIXES:
        return None
    try:
        found = finders.find(name)
    except SuspiciousFileOperation:
        return None
    return Path(found).read_bytes() if found else None
