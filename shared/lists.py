"""What every list page does: read the words searched for, cut into pages, keep both."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from django.core.paginator import Page, Paginator
from django.db.models import QuerySet
from django.http import HttpRequest

PER_PAGE = 50
MOST_WORDS = 8  # each is a condition more for the database


def words(request: HttpRequest, name: str = "q") -> str:
    """Return what is searched for, in a form that every database takes."""
    text = "".join(c if c.isprintable() else " " for c in request.GET.get(name, ""))
    return " ".join(text[:200].split()[:MOST_WORDS])


@dataclass(frozen=True, slots=True)
class Listed:
    """One page of a list, and the query that its links keep."""

    page: Page[Any]
    kept: str

    @property
    def total(self) -> int:
        """How many there are on all pages."""
        return self.page.paginator.count


def cut(request: HttpRequest, rows: QuerySet[Any], *keep: str) -> Listed:
    """Cut rows into pages; a page that does not exist is the nearest one. Two queries."""
    page = Paginator(rows, PER_PAGE).get_page(request.GET.get("page"))
    kept = {n: request.GET[n].replace("\0", "") for n in keep if request.GET.get(n)}
    return Listed(page, f"{urlencode(kept)}&" if kept else "")
