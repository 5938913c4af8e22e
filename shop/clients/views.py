"""Clients: list, page, enquiries, sites and notes."""

from __future__ import annotations

import uuid
from copy import copy
from typing import Any

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import (
    require_GET,
    require_http_methods,
    require_POST,
)

from shared import lists
from shared.access import Right, may, needs
from shared.conventions import today
from shared.htmx import done, page_or_fragment, wants_fragment
from shared.notices import say
from shared.slots import sections
from shop.clients import actions
from shop.clients.forms import (
    ChangeDetailsForm,
    EnquiryForm,
    NewClientForm,
    SaidForm,
    SiteAccessForm,
)
from shop.clients.models import Client, Enquiry, Site
from shop.clients.reports import client_page
from shop.clients.slots import CLIENT_SECTIONS
from shop.people.me import me

GET_POST = ["GET", "HEAD", "POST"]


def _client(pk: uuid.UUID) -> Client:
    found: Client = get_object_or_404(Client.objects.with_details(), pk=pk)
    return found


def _enquiry(pk: uuid.UUID) -> Enquiry:
    rows = Enquiry.objects.select_related("client__details")
    found: Enquiry = get_object_or_404(rows, pk=pk)
    return found


def _site(pk: uuid.UUID) -> Site:
    rows = Site.objects.select_related("client__details")
    found: Site = get_object_or_404(rows, pk=pk)
    return found


@needs(Right.SEE_CLIENTS)
@require_GET
def clients(request: HttpRequest) -> HttpResponse:
    """List clients, or those in whom every word is found, put aside or not."""
    words = lists.words(request)
    aside = bool(request.GET.get("aside"))
    rows = Client.objects.with_details().with_last_enquiry()
    shown = rows.shown(words, aside=aside)
    context = {
        "listed": lists.cut(request, shown, "q", "aside"),
        "words": words,
        "aside": aside,
        "may_keep": may(request.user, Right.KEEP_CLIENTS),
    }
    return page_or_fragment(
        request,
        page="shop/clients/clients.html",
        fragment="shop/clients/_clients.html",
        context=context,
    )


@needs(Right.SEE_CLIENTS)
@require_GET
def client(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show all that is known of a client."""
    return _show_client(request, _client(pk), SaidForm())


def _show_client(request: HttpRequest, shown: Client, form: SaidForm) -> HttpResponse:
    context = {
        "page": client_page(shown),
        "client": shown,
        "form": form,
        "sections": sections(CLIENT_SECTIONS, request, shown),
        "may_keep": may(request.user, Right.KEEP_CLIENTS),
        "sees_money": may(request.user, Right.SEE_MONEY),
        "runs_shop": may(request.user, Right.RUN_SHOP),
    }
    return render(request, "shop/clients/client.html", context, status=form.status)


@needs(Right.SEE_CLIENTS)
@require_POST
def client_said(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Write down what was said; answer with the list of notes, or the whole page."""
    spoken = _client(pk)
    form = SaidForm(request.POST)
    if form.is_valid():
        text = form.cleaned_data["text"]
        actions.note_said(spoken, text=text, by=me(request), at=timezone.now())
        if not wants_fragment(request):
            return redirect(f"{spoken.get_absolute_url()}#said")
        form = SaidForm()
    if wants_fragment(request):
        context = {"page": client_page(spoken), "client": spoken, "form": form}
        template = "shop/clients/_said.html"
        return render(request, template, context, status=form.status)
    return _show_client(request, spoken, form)


@needs(Right.KEEP_CLIENTS)
@require_http_methods(GET_POST)
def client_new(request: HttpRequest) -> HttpResponse:
    """Write down a client, with the first enquiry and where the rooms are."""
    now = timezone.now()
    form = NewClientForm(request.POST or None, today=today(now))
    if request.method == "POST" and form.is_valid():
        new = actions.add_client(
            form.details.save(commit=False),
            enquiry=form.enquiry.save(commit=False),
            site=form.first_site(),
            by=me(request),
            at=now,
        )
        say(request, f"{new} is written down.")
        return redirect(new)
    context = {"form": form}
    return render(request, "shop/clients/new.html", context, status=form.status)


@needs(Right.KEEP_CLIENTS)
@require_http_methods(GET_POST)
def client_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change a client's details."""
    changed = _client(pk)
    form = ChangeDetailsForm(
        request.POST or None,
        # A copy, since what is typed wrongly must not stand in the heading.
        instance=copy(changed.details),
        initial={"notes": changed.notes},
    )
    if request.method == "POST" and form.is_valid():
        details = form.save(commit=False)
        notes = form.cleaned_data["notes"]
        actions.change_client(details, notes=notes, by=me(request), at=timezone.now())
        say(request, "Stored.")
        return redirect(changed)
    return _form(request, form, client=changed, title="Change details")


@needs(Right.KEEP_CLIENTS)
@require_POST
def client_archive(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put a client aside, with a way back."""
    aside = _client(pk)
    actions.archive_client(aside, by=me(request), at=timezone.now())
    undo = reverse("shop:client-restore", args=(pk,))
    say(request, f"{aside} is put aside.", undo=undo)
    return done(request, reverse("shop:clients"))


@needs(Right.KEEP_CLIENTS)
@require_POST
def client_restore(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take a client up again."""
    back = _client(pk)
    actions.restore_client(back, by=me(request), at=timezone.now())
    say(request, f"{back} is back among the clients.")
    return done(request, back.get_absolute_url())


@needs(Right.KEEP_CLIENTS)
@require_http_methods(GET_POST)
def enquiry_new(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Write down another enquiry of a client."""
    asking, now = _client(pk), timezone.now()
    enquiry = Enquiry(client=asking)
    first = {"asked_on": today(now)}
    form = EnquiryForm(request.POST or None, instance=enquiry, initial=first)
    if request.method == "POST" and form.is_valid():
        actions.add_enquiry(form.save(commit=False), by=me(request), at=now)
        say(request, "The enquiry is written down.")
        return redirect(asking)
    return _form(request, form, client=asking, title="A new enquiry")


@needs(Right.KEEP_CLIENTS)
@require_http_methods(GET_POST)
def enquiry_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change an enquiry; its ballpark is reckoned anew."""
    enquiry = _enquiry(pk)
    form = EnquiryForm(request.POST or None, instance=enquiry)
    if request.method == "POST" and form.is_valid():
        actions.change_enquiry(
            form.save(commit=False), by=me(request), at=timezone.now()
        )
        say(request, "Stored.")
        return redirect(enquiry.client)
    return _form(request, form, client=enquiry.client, title="Change the enquiry")


@needs(Right.KEEP_CLIENTS)
@require_POST
def enquiry_archive(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put an enquiry aside, with a way back."""
    aside = _enquiry(pk)
    actions.archive_enquiry(aside, by=me(request), at=timezone.now())
    undo = reverse("shop:enquiry-restore", args=(pk,))
    say(request, "The enquiry is put aside.", undo=undo)
    return done(request, aside.client.get_absolute_url())


@needs(Right.KEEP_CLIENTS)
@require_POST
def enquiry_restore(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Bring an enquiry back."""
    back = _enquiry(pk)
    actions.restore_enquiry(back, by=me(request), at=timezone.now())
    say(request, "The enquiry is back.")
    return done(request, back.client.get_absolute_url())


@needs(Right.KEEP_CLIENTS)
@require_http_methods(GET_POST)
def site_new(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Add an address where rooms of a client are."""
    housed = _client(pk)
    form = SiteAccessForm(
        request.POST or None,
        instance=Site(client=housed),
        initial=_known_of_sites(housed),
    )
    if request.method == "POST" and form.is_valid():
        actions.add_site(form.save(commit=False), by=me(request), at=timezone.now())
        say(request, "The address is added.")
        return redirect(housed)
    return _site_form(request, form, client=housed, title="Another address of rooms")


def _known_of_sites(housed: Client) -> dict[str, Any]:
    """Return what need not be asked again: the first site is likely the client's address."""
    latest = housed.enquiries.live().first()
    known = {"tenure": latest.tenure, "setting": latest.setting} if latest else {}
    own = "" if housed.sites.live().exists() else housed.details.address
    return known | {"address": own}


@needs(Right.KEEP_CLIENTS)
@require_http_methods(GET_POST)
def site_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change an address of rooms and how to get in."""
    site = _site(pk)
    form = SiteAccessForm(request.POST or None, instance=site)
    if request.method == "POST" and form.is_valid():
        actions.change_site(form.save(commit=False), by=me(request), at=timezone.now())
        say(request, "Stored.")
        return redirect(site.client)
    return _site_form(request, form, client=site.client, title="Change the address")


@needs(Right.KEEP_CLIENTS)
@require_POST
def site_archive(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put an address aside, with a way back; say which rooms stand against it."""
    aside = _site(pk)
    try:
        actions.archive_site(aside, by=me(request), at=timezone.now())
    except ValidationError as refused:
        context = {"site": aside, "client": aside.client, "why": refused.messages[0]}
        return render(request, "shop/clients/kept.html", context, status=422)
    undo = reverse("shop:site-restore", args=(pk,))
    say(request, f"{aside} is put aside.", undo=undo)
    return done(request, aside.client.get_absolute_url())


@needs(Right.KEEP_CLIENTS)
@require_POST
def site_restore(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Bring an address back."""
    back = _site(pk)
    actions.restore_site(back, by=me(request), at=timezone.now())
    say(request, f"{back} is back.")
    return done(request, back.client.get_absolute_url())


def _form(
    request: HttpRequest,
    form: ChangeDetailsForm | EnquiryForm,
    *,
    client: Client,
    title: str,
) -> HttpResponse:
    context = {"form": form, "client": client, "title": title}
    return render(request, "shop/clients/form.html", context, status=form.status)


def _site_form(
    request: HttpRequest, form: SiteAccessForm, *, client: Client, title: str
) -> HttpResponse:
    context = {"form": form, "client": client, "title": title}
    return render(request, "shop/clients/site_form.html", context, status=form.status)
