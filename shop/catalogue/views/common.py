"""What the pages of the stores share: list, add, change, put aside and take up again."""

from __future__ import annotations

from typing import Any

from django.db.models import Model
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone

from shared import lists
from shared.access import Right, may
from shared.forms import PlainModelForm
from shared.models import ArchivableQuerySet
from shared.notices import say
from shop.catalogue import actions
from shop.people.me import me

GET_POST = ["GET", "HEAD", "POST"]
SEES_STOCK = (Right.KEEP_STORES, Right.CUT)
"""Whoever has one of these sees what lies in the stores, counts it and takes it out."""


def rights_of(request: HttpRequest) -> dict[str, bool]:
    """Say whether somebody may keep the stores, see what lies there, and see prices."""
    return {
        "sees_stock": any(may(request.user, right) for right in SEES_STOCK),
        "may_keep": may(request.user, Right.KEEP_STORES),
        "sees_money": may(request.user, Right.SEE_MONEY),
    }


def found_in(
    request: HttpRequest, rows: ArchivableQuerySet, words: str
) -> dict[str, Any]:
    """Cut rows in use into pages; list those put aside."""
    listed = lists.cut(request, rows.live(), "q")
    return {"listed": listed, "aside": rows.archived(), "words": words}


def added(request: HttpRequest, form: PlainModelForm, up: str) -> HttpResponse:
    """Store something new and go back to its list."""
    new = actions.add(form.save(commit=False), by=me(request), at=timezone.now())
    say(request, f"{new} is added.")
    return redirect(f"shop:{up}")


def changed(request: HttpRequest, form: PlainModelForm, up: str) -> HttpResponse:
    """Store changes and go back to the list."""
    actions.change(form.save(commit=False), by=me(request), at=timezone.now())
    say(request, "Stored. Quotes that were sent keep what they say.")
    return redirect(f"shop:{up}")


def archive(
    request: HttpRequest, row: actions.Kept, name: str, up: str
) -> HttpResponse:
    """Put something aside, with a way back."""
    actions.archive(row, by=me(request), at=timezone.now())
    undo = reverse(f"shop:{name}-restore", args=(row.pk,))
    say(request, f"{row} is put aside.", undo=undo)
    return redirect(f"shop:{up}")


def restore(request: HttpRequest, row: actions.Kept, up: str) -> HttpResponse:
    """Take something up again."""
    actions.restore(row, by=me(request), at=timezone.now())
    say(request, f"{row} is in use again.")
    return redirect(f"shop:{up}")


def form_page(
    request: HttpRequest, form: PlainModelForm, *, title: str, up: str
) -> HttpResponse:
    """Show the form of one row."""
    row: Model = form.instance
    context = {
        "form": form,
        "title": title,
        "up": reverse(f"shop:{up}"),
        "archive_url": "" if row._state.adding else _archive_url(row),
    }
    template = "shop/catalogue/form.html"
    return render(request, template, context, status=form.status)


def _archive_url(row: Model) -> str:
    return reverse(f"shop:{row._meta.model_name}-archive", args=(row.pk,))
