"""Builds: list, page with a live example, copy, change, put aside, bench sheet."""

from __future__ import annotations

import uuid

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import (
    require_GET,
    require_http_methods,
    require_POST,
)

from quotes.specs import actions, documents
from quotes.specs.engine.model import NominalSize
from quotes.specs.forms import BuildForms, ExampleForm, row_set_to_grow
from quotes.specs.models import BuildSpec
from quotes.specs.reports import (
    builds_at_usual_size,
    example_of,
    usual_size,
    work_out,
)
from quotes.specs.starter import install_starter
from shared.access import Right, may, needs
from shared.conventions import current
from shared.files.views import pdf_response
from shared.htmx import done, page_or_fragment
from shared.lists import cut, words
from shared.notices import say
from shared.pdf import Letterhead
from shop.people.me import me
from shop.people.reports import profile

GET_POST = ["GET", "HEAD", "POST"]


def _build(pk: uuid.UUID) -> BuildSpec:
    found: BuildSpec = get_object_or_404(BuildSpec.objects.with_parts(), pk=pk)
    return found


@require_GET
def builds(request: HttpRequest) -> HttpResponse:
    """Show the builds in use, or those put aside."""
    aside = "aside" in request.GET
    rows = BuildSpec.objects.with_parts().matching(words(request))
    listed = cut(request, rows.archived() if aside else rows.live(), "q", "aside")
    return page_or_fragment(
        request,
        page="quotes/specs/builds.html",
        fragment="quotes/specs/_builds.html",
        context={
            "rows": builds_at_usual_size(listed.page),
            "listed": listed,
            "q": words(request),
            "aside": aside,
            "may_start": may(request.user, Right.KEEP_STORES),
            "sees_money": may(request.user, Right.SEE_MONEY),
        },
    )


@require_GET
def build(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show what a build takes, at a size that the address names."""
    return _page(request, _build(pk))


def _asked(request: HttpRequest) -> tuple[ExampleForm, NominalSize | None]:
    """Read the size asked for, or take the usual one."""
    if "w" not in request.GET and "h" not in request.GET:
        size = usual_size()
        shown = {"w": size.width_ticks, "h": size.height_ticks}
        return ExampleForm(initial=shown), size
    form = ExampleForm(request.GET)
    return form, form.size()


def _page(request: HttpRequest, spec: BuildSpec) -> HttpResponse:
    form, size = _asked(request)
    example = example_of(spec, size) if size else None
    return page_or_fragment(
        request,
        page="quotes/specs/build.html",
        fragment="quotes/specs/_example.html",
        context={
            "spec": spec,
            "form": form,
            "example": example,
            "refused": form.show(example.worked.refused) if example else (),
            "planned": spec.panels.live().count(),
            "may_keep": may(request.user, Right.KEEP_BUILDS),
        },
        status=form.status,
    )


@require_GET
def build_sheet(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Print the bench sheet at the size asked for; a refused size says why on the page."""
    spec = _build(pk)
    _, size = _asked(request)
    worked = work_out(spec, size) if size else None
    if worked is None or worked.takeoff is None:
        return _page(request, spec)
    sheet = documents.sheet_of(worked)
    return pdf_answer(documents.bench_sheet_pdf(sheet, letterhead=_letterhead()))


def _letterhead() -> Letterhead:
    return documents.letterhead_of(profile())


def pdf_answer(pdf: bytes, name: str = "bench-sheet") -> HttpResponse:
    """Answer with a PDF that the browser shows."""
    return pdf_response(pdf, name=f"{name}.pdf")


@require_POST
@needs(Right.KEEP_STORES)
def builds_starter(request: HttpRequest) -> HttpResponse:
    """Add the five builds, and the materials and work they need, to an empty shop."""
    units = current().unit_system
    made = install_starter(at=timezone.now(), by=me(request), units=units)
    say(
        request,
        f"{len(made)} builds added, with materials and work to match. Their prices and"
        " minutes are invented: put in your own.",
    )
    return redirect("quotes:builds")


@require_POST
@needs(Right.KEEP_BUILDS)
def build_copy(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Copy a build and go on to change the copy."""
    spec = _build(pk)
    copy = actions.copy_build(spec, by=me(request), at=timezone.now())
    say(request, f"This is a copy of {spec}. Change what you build differently.")
    return redirect("quotes:build-change", copy.pk)


@require_http_methods(GET_POST)
@needs(Right.KEEP_BUILDS)
def build_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change a build with its rows; a button adds a row without storing anything."""
    spec = _build(pk)
    name = spec.name
    if request.method == "POST" and (grow := row_set_to_grow(request.POST)):
        forms = BuildForms.grown(spec, request.POST, grow)
    else:
        forms = BuildForms(spec, request.POST if request.method == "POST" else None)
        if request.method == "POST" and forms.is_valid():
            actions.store_build(spec, forms.parts(), by=me(request), at=timezone.now())
            say(request, f"{spec} is stored.")
            return done(request, spec.get_absolute_url())
    return page_or_fragment(
        request,
        page="quotes/specs/build_form.html",
        fragment="quotes/specs/_build_form.html",
        context={"spec": spec, "name": name, "forms": forms},
        status=forms.status,
    )


@require_POST
@needs(Right.KEEP_BUILDS)
def build_archive(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put a build aside."""
    spec = _build(pk)
    actions.archive_build(spec, by=me(request), at=timezone.now())
    undo = reverse("quotes:build-restore", args=(spec.pk,))
    say(request, f"{spec} is put aside. What is planned of it stays.", undo=undo)
    return redirect("quotes:builds")


@require_POST
@needs(Right.KEEP_BUILDS)
def build_restore(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Bring a build back."""
    spec = _build(pk)
    try:
        actions.restore_build(spec, by=me(request), at=timezone.now())
    except ValidationError as refused:
        messages.error(request, " ".join(refused.messages))
        return redirect("quotes:builds")
    say(request, f"{spec} is back.")
    return redirect(spec)
