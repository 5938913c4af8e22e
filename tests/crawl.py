"""Walk the site as one person: every link from the first page, and every address there is."""

from __future__ import annotations

import html
import io
import re
import uuid
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from unittest import mock
from urllib.parse import urljoin, urlsplit

from django.apps import apps
from django.db import models
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, resolve
from pypdf import PdfReader

from tests.cast import AS_HTMX

OURS = ("shared", "shop", "quotes", "jobs")
# Patterns, for a parser takes longer than all pages do to be made.
DRAWN = re.compile(r"<svg\b.*?</svg>", re.DOTALL)
TAG = re.compile(r"<[^>]*>")
LINK = re.compile(r"""\s(?:href|src|data|hx-get)="([^"]+)\"""")
FORM = re.compile(r"<form\b[^>]*>")
ACTION = re.compile(r"""\saction="([^"]+)\"""")
PARAMETER = re.compile(r"<(?:(\w+):)?(\w+)>")


@dataclass(frozen=True)
class Answer:
    """What one address answered to one person."""

    path: str
    status: int
    kind: str
    body: bytes

    @cached_property
    def words(self) -> str:
        """Everything written in it: text, attributes, comments, or a PDF's text.

        A drawing counts by its words alone: its lines are full of numbers.
        """
        if self.kind == "application/pdf":
            pages = PdfReader(io.BytesIO(self.body)).pages
            return "\n".join(page.extract_text() for page in pages)
        return DRAWN.sub(lambda found: TAG.sub(" ", found[0]), self.body.decode())

    def leads_to(self) -> Iterator[str]:
        """Give the path, with its query, of every link and of what forms and htmx ask for."""
        if self.kind == "text/html":
            source = self.body.decode()
            yield from map(html.unescape, LINK.findall(source))
            forms = (tag for tag in FORM.findall(source) if "post" not in tag.lower())
            for tag in forms:
                yield from map(html.unescape, ACTION.findall(tag))


@dataclass
class Visitor:
    """One person with a browser."""

    browser: Client

    def ask(self, path: str, **headers: str) -> Answer:
        """Open one address."""
        response = self.browser.get(path, headers=headers)
        kind = response.headers.get("Content-Type", "").split(";")[0]
        body = b"".join(response) if response.streaming else response.content
        return Answer(path, response.status_code, kind, body)

    def follow_links(self, start: str = "/", *, most: int = 1000) -> list[Answer]:
        """Open every page that can be reached from one by links, or a few of each kind.

        Papers take long to print: of each kind, only one is.
        """
        found, waiting, answers = {start}, [start], []
        opened: Counter[str] = Counter()
        papers = set()
        while waiting:
            path = waiting.pop(0)
            kind = resolve(urlsplit(path).path).route
            opened[kind] += 1
            if kind in papers or opened[kind] > most:
                continue
            answer = self.ask(path)
            answers.append(answer)
            if answer.kind == "application/pdf":
                papers.add(kind)
            targets = {_own(link, path) for link in answer.leads_to()} - found - {""}
            found |= targets
            waiting += sorted(targets)
        return answers

    def try_addresses(self) -> list[Answer]:
        """Open every address there is with real ids, as page and as fragment."""
        plain = list(self._plain())
        opened = [a for a in plain if a.status == 200 and a.kind == "text/html"]
        return plain + [self.ask(answer.path, **AS_HTMX) for answer in opened]

    def _plain(self) -> Iterator[Answer]:
        for route in patterns():
            if not PARAMETER.search(route):
                yield self.ask(route)
            elif self.ask(_fill(route, uuid.uuid4())).status not in {403, 405}:
                # Who may not even ask for a stranger needs no real ids.
                yield from self._with_ids(route)

    def _with_ids(self, route: str) -> Iterator[Answer]:
        for first, *more in _ids():
            answer = self.ask(_fill(route, first))
            yield answer
            if answer.status == 200 and answer.kind == "text/html":
                yield from (self.ask(_fill(route, pk)) for pk in more)


@contextmanager
def unprinted() -> Iterator[None]:
    """Leave papers blank: a walk that is about pages alone takes half the time."""
    with mock.patch("shared.pdf.html_to_pdf", return_value=b"%PDF-1.7"):
        yield


def _own(link: str, base: str) -> str:
    """Return a link's path and query if it leads to a page of ours."""
    parts = urlsplit(urljoin(f"http://testserver{base}", link))
    if parts.netloc != "testserver" or parts.scheme != "http":
        return ""
    if parts.path.startswith(("/static/", "/admin/")):
        return ""
    return f"{parts.path}?{parts.query}" if parts.query else parts.path


def patterns(resolver: URLResolver | None = None, prefix: str = "") -> Iterator[str]:
    """Give every route of ours as it is written; the admin's are its own affair."""
    for entry in (resolver or get_resolver()).url_patterns:
        route = prefix + str(entry.pattern)
        if route.startswith("admin/"):
            continue
        if isinstance(entry, URLPattern):
            yield "/" + route
        else:
            yield from patterns(entry, route)


def _fill(route: str, key: uuid.UUID) -> str:
    words = {"uuid": str(key), "int": "1", "str": "cafe", "slug": "sheet"}
    return PARAMETER.sub(lambda match: words.get(match[1] or "str", "x"), route)


def _ids() -> list[list[uuid.UUID]]:
    """Return the first ids of every kind of row."""
    ours = (m for app in OURS for m in apps.get_app_config(app).get_models())
    keyed = (m for m in ours if isinstance(m._meta.pk, models.UUIDField))
    rows = (
        list(model._default_manager.order_by("pk").values_list("pk", flat=True)[:3])
        for model in keyed
    )
    return [ids for ids in rows if ids]
