"""Who may do what: the roles of a small shop and the rights that go with them."""

from __future__ import annotations

import enum
from collections.abc import Callable
from functools import wraps
from typing import Any, TypeVar, cast

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponseBase

View = TypeVar("View", bound=Callable[..., HttpResponseBase])


class Role(enum.StrEnum):
    """What a person does in the shop; one person may be everything."""

    OWNER = "owner"
    OFFICE = "office"
    MAKER = "maker"
    FITTER = "fitter"


class Right(enum.StrEnum):
    """A thing that not everybody may do."""

    RUN_SHOP = "run_shop"
    SEE_MONEY = "see_money"
    QUOTE = "quote"
    SEE_CLIENTS = "see_clients"
    KEEP_CLIENTS = "keep_clients"
    SURVEY = "survey"
    KEEP_STORES = "keep_stores"
    KEEP_BUILDS = "keep_builds"
    MOVE_PANELS = "move_panels"
    CUT = "cut"
    PLAN_SITE_DAYS = "plan_site_days"
    LOAD_VAN = "load_van"


_OFFICE = frozenset(Right) - {Right.RUN_SHOP}

RIGHTS: dict[Role, frozenset[Right]] = {
    Role.OWNER: frozenset(Right),
    Role.OFFICE: _OFFICE,
    Role.MAKER: frozenset(
        {Right.KEEP_BUILDS, Right.MOVE_PANELS, Right.CUT, Right.LOAD_VAN}
    ),
    Role.FITTER: frozenset(
        {Right.SEE_CLIENTS, Right.SURVEY, Right.MOVE_PANELS, Right.LOAD_VAN}
    ),
}
"""Makers and fitters see no cost, price or margin anywhere."""


def may(person: Any, right: Right) -> bool:
    """Whether a person (or a visitor who has not signed in) has a right."""
    role = getattr(person, "role", None)
    if not getattr(person, "is_active", False) or role is None:
        return False
    return right in RIGHTS[Role(role)]


def needs(*rights: Right) -> Callable[[View], View]:
    """Answer 403 to a person who has none of the rights named."""

    def decorate(view: View) -> View:
        @wraps(view)
        def checked(
            request: HttpRequest, *args: object, **kwargs: object
        ) -> HttpResponseBase:
            if not any(may(request.user, right) for right in rights):
                raise PermissionDenied(", ".join(rights))
            return view(request, *args, **kwargs)

        return cast("View", checked)

    return decorate
