"""People and the shop, as small as they may be."""

from __future__ import annotations

from typing import Any

from shop.people.models import Person, ShopProfile

PASSWORD = "plane the cleat"


def make_person(
    *,
    username: str = "mina",
    role: str = "maker",
    password: str = PASSWORD,
    **fields: Any,
) -> Person:
    """Somebody who can sign in with `PASSWORD`."""
    made: Person = Person.objects.create_user(
        username=username, password=password, role=role, **fields
    )
    return made


def make_profile(*, name: str = "Quillback Panels", **fields: Any) -> ShopProfile:
    """The one shop."""
    made, _ = ShopProfile.objects.update_or_create(
        id=1, defaults={"name": name, **fields}
    )
    return made
