"""Sign in and out, people, passwords, and the shop's own page."""

from __future__ import annotations

import uuid

from django.contrib.auth import login, logout, update_session_auth_hash
from django.contrib.auth.decorators import login_not_required
from django.core.exceptions import PermissionDenied, ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import (
    require_GET,
    require_http_methods,
    require_POST,
)

from shared import lists
from shared.access import Right, may, needs
from shared.audit.reports import log_of
from shared.htmx import page_or_fragment
from shared.menu import home_url
from shared.notices import say
from shared.slots import sections
from shop.people import actions
from shop.people.forms import (
    NewPersonForm,
    OwnDetailsForm,
    OwnPasswordForm,
    PersonForm,
    ProfileForm,
    SetPasswordForm,
    SignInForm,
)
from shop.people.me import me
from shop.people.models import Person
from shop.people.reports import profile as the_profile
from shop.people.slots import SHOP_SECTIONS

GET_POST = ["GET", "HEAD", "POST"]


def _asked_for(request: HttpRequest) -> str:
    """Return the page that a visitor wanted, if it is one of ours."""
    to = request.POST.get("next") or request.GET.get("next") or ""
    ours = url_has_allowed_host_and_scheme(
        to, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return to if ours else ""


@sensitive_post_parameters("password")
@never_cache
@login_not_required
@require_http_methods(GET_POST)
def sign_in(request: HttpRequest) -> HttpResponse:
    """Take a name and a password; go where the visitor wanted."""
    to = _asked_for(request)
    if request.user.is_authenticated:
        return redirect(to or home_url() or "/")
    form = SignInForm(request, data=request.POST or None)
    if request.method == "POST" and form.is_valid():
        login(request, form.get_user())
        return redirect(to or home_url() or "/")
    context = {"form": form, "next": to}
    return render(request, "registration/login.html", context, status=form.status)


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """Close the session."""
    logout(request)
    return redirect("shop:sign-in")


@needs(Right.RUN_SHOP)
@require_GET
def people(request: HttpRequest) -> HttpResponse:
    """Everybody who works here, and those who left; or who is found by words."""
    words = lists.words(request)
    found = Person.objects.in_order().matching(words)
    return page_or_fragment(
        request,
        page="shop/people/people.html",
        fragment="shop/people/_people.html",
        context={
            "listed": lists.cut(request, found.active(), "q"),
            "left": found.gone(),
            "words": words,
        },
    )


def _theirs(request: HttpRequest, pk: uuid.UUID) -> Person:
    """Fetch a person whom this one may open: oneself, or anybody for an owner."""
    if pk != request.user.pk and not may(request.user, Right.RUN_SHOP):
        raise PermissionDenied
    return get_object_or_404(Person, pk=pk)


@require_GET
def person(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show one person's page."""
    somebody = _theirs(request, pk)
    context = {
        "somebody": somebody,
        "is_me": somebody == request.user,
        "runs_shop": may(request.user, Right.RUN_SHOP),
        "log": log_of(somebody),
    }
    return render(request, "shop/people/person.html", context)


@sensitive_post_parameters("password")
@needs(Right.RUN_SHOP)
@require_http_methods(GET_POST)
def person_new(request: HttpRequest) -> HttpResponse:
    """Take somebody on."""
    form = NewPersonForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        password = form.cleaned_data["password"]
        new = actions.add_person(
            form.save(commit=False),
            password=password,
            by=me(request),
            at=timezone.now(),
        )
        say(request, f"{new} can sign in as {new.username}.")
        return redirect("shop:people")
    context = {"form": form}
    return render(request, "shop/people/person_form.html", context, status=form.status)


@require_http_methods(GET_POST)
def person_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change somebody's details; one's own name and phone without being an owner."""
    somebody = _theirs(request, pk)
    kind = PersonForm if may(request.user, Right.RUN_SHOP) else OwnDetailsForm
    form = kind(request.POST or None, instance=somebody)
    if request.method == "POST" and form.is_valid():
        try:
            actions.change_person(
                form.save(commit=False), by=me(request), at=timezone.now()
            )
        except ValidationError as refused:
            form.add_error(None, refused)
        else:
            say(request, "Stored.")
            return redirect(somebody)
    # The instance carries what was typed: the heading wants what is stored.
    stored = get_object_or_404(Person, pk=pk)
    context = {"form": form, "somebody": stored}
    return render(request, "shop/people/person_form.html", context, status=form.status)


@sensitive_post_parameters("password", "old")
@require_http_methods(GET_POST)
def person_password(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Set a new password: for oneself after the old one, for others as an owner."""
    somebody = _theirs(request, pk)
    is_me = somebody == request.user
    kind = OwnPasswordForm if is_me else SetPasswordForm
    form = kind(request.POST or None, person=somebody)
    if request.method == "POST" and form.is_valid():
        password = form.cleaned_data["password"]
        actions.set_password(
            somebody, password=password, by=me(request), at=timezone.now()
        )
        if is_me:
            update_session_auth_hash(request, somebody)
        say(request, "The new password holds from now on.")
        return redirect(somebody)
    context = {"form": form, "somebody": somebody, "is_me": is_me}
    return render(request, "shop/people/password.html", context, status=form.status)


@needs(Right.RUN_SHOP)
@require_POST
def person_archive(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Shut the door behind somebody who left."""
    somebody = get_object_or_404(Person, pk=pk)
    try:
        actions.archive_person(somebody, by=me(request), at=timezone.now())
    except ValidationError as refused:
        context = {"somebody": somebody, "why": refused.messages[0]}
        return render(request, "shop/people/kept.html", context, status=422)
    undo = reverse("shop:person-restore", args=(pk,))
    say(request, f"{somebody} can’t sign in any more.", undo=undo)
    return redirect("shop:people")


@needs(Right.RUN_SHOP)
@require_POST
def person_restore(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Let somebody in again."""
    somebody = get_object_or_404(Person, pk=pk)
    actions.restore_person(somebody, by=me(request), at=timezone.now())
    say(request, f"{somebody} can sign in again.")
    return redirect("shop:people")


@needs(Right.RUN_SHOP)
@require_http_methods(GET_POST)
def profile(request: HttpRequest) -> HttpResponse:
    """Show the shop's own page, which is a form, with the parts that others add."""
    shop = the_profile()
    form = ProfileForm(request.POST or None, instance=shop)
    if request.method == "POST" and form.is_valid():
        shop = form.save(commit=False)
        actions.change_profile(shop, by=me(request), at=timezone.now())
        say(request, "Stored. Pages and papers show it from now on.")
        return redirect("shop:profile")
    context = {"form": form, "sections": sections(SHOP_SECTIONS, request, shop)}
    return render(request, "shop/people/profile.html", context, status=form.status)
