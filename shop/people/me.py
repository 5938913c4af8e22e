"""Who asks."""

from __future__ import annotations

from typing import cast

from django.http import HttpRequest

from shop.people.models import Person


def me(request: HttpRequest) -> Person:
    """Return the person who has signed in: nobody gets to a view without."""
    return cast("Person", request.user)
