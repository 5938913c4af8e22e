"""Walk the site as one person: every link from the first page, and every address there is."""

from __future__ import annotations

import io
import re
import uuid
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import islice
from urllib.parse import urljoin, urlsplit

from bs4 import BeautifulSoup
from django.apps import apps
from django.db import models
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver
from pypdf import PdfReader

from tests.cast import AS_HTMX

OURS = ("shared", "shop", "quotes", "jobs")
IDS_OF_EACH = 3
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
        """Everything written in it: a PDF's text, else the whole source."""
        if self.kind == "application/pdf":
            pages = PdfReader(io.BytesIO(self.body)).pages
            return "\n".join(page.extract_text() for page in pages)
        return self.body.decode()

    def leads_to(self) -> Iterator[str]:
        """Give the path, with its query, of every link and of what forms and htmx ask for."""
        if self.kind != "text/html":
            return
        page = BeautifulSoup(self.body.decode(), "html.parser")
        names = {"a": "href", "iframe": "src", "img": "src", "object": "data"}
        for tag, name in names.items():
            yield from (found[name] for found in page.select(f"{tag}[{name}]"))
        yield from (found["hx-get"] for found in page.select("[hx-get]"))
        for form in page.select("form[action]"):
            if form.get("method", "get").lower() == "get":
                yield form["action"]


@dataclass
class Visitor:
    """One person with a browser that keeps what it saw."""

    browser: Client

    def ask(self, path: str, **headers: str) -> Answer:
        """Open one address."""
        response = self.browser.get(path, headers=headers)
        kind = response.headers.get("Content-Type", "").split(";")[0]
        body = b"".join(response) if response.streaming else response.content
        return Answer(path, response.status_code, kind, body)

    def follow_links(self, start: str = "/") -> list[Answer]:
        """Open every page that can be reached from one by links, as page and as fragment."""
        found, waiting, answers = {start}, [start], []
        while waiting:
            path = waiting.pop(0)
            answer = self.ask(path)
            answers.append(answer)
            for link in answer.leads_to():
                target = _own(link, path)
                if target and target not in found:
                    found.add(target)
                    waiting.append(target)
        return answers

    def try_addresses(self) -> list[Answer]:
        """Open every address there is with real ids, as page and as fragment."""
        return [
            answer
            for path in _paths(self)
            for answer in (self.ask(path), self.ask(path, **AS_HTMX))
        ]


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


def _paths(visitor: Visitor) -> Iterator[str]:
    for route in patterns():
        if not PARAMETER.search(route):
            yield route
        elif _may_be_there(visitor, route):
            yield from filled(route)


def _may_be_there(visitor: Visitor, route: str) -> bool:
    """Whether it is worth while to try real ids: who may not ask needs none."""
    stranger = next(_fill(route, [uuid.uuid4()]))
    return visitor.ask(stranger).status not in {403, 405}


def filled(route: str) -> Iterator[str]:
    """Fill a route with the first ids of every kind of row."""
    yield from _fill(route, _ids())


def _fill(route: str, ids: list[uuid.UUID]) -> Iterator[str]:
    for key in ids:
        words = {"uuid": str(key), "int": "1", "str": "cafe", "slug": "sheet"}
        yield PARAMETER.sub(lambda m, w=words: w.get(m[1] or "str", "x"), route)


def _ids() -> list[uuid.UUID]:
    ours = (m for app in OURS for m in apps.get_app_config(app).get_models())
    keyed = (m for m in ours if isinstance(m._meta.pk, models.UUIDField))
    return [
        key
        for model in keyed
        for key in islice(
            model._default_manager.order_by("pk").values_list("pk", flat=True),
            IDS_OF_EACH,
        )
    ]
