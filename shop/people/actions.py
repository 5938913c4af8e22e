"""Change who works here and how the shop presents itself."""

from __future__ import annotations

import datetime as dt
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction

from shared.audit.actions import record
from shop.people.models import Person, RoleChoice, ShopProfile

LAST_OWNER = "Somebody has to run the shop: make another person owner first."


def _runs_admin(person: Person) -> None:
    """Open Django's admin to owners, and to nobody else."""
    person.is_staff = person.is_superuser = person.role == RoleChoice.OWNER


def _keep_an_owner(person: Person, *, field: str | None = None) -> None:
    """Refuse to lose the last active owner."""
    others = Person.objects.active().owners().exclude(pk=person.pk)
    if not others.exists():
        raise ValidationError({field: LAST_OWNER} if field else LAST_OWNER)


@transaction.atomic
def add_person(person: Person, *, password: str, by: Person, at: dt.datetime) -> Person:
    """Take somebody on, with a first password."""
    _runs_admin(person)
    person.set_password(password)
    person.full_clean()
    person.save()
    record(person, verb="add", text=f"Taken on as {person.role}", by=by, at=at)
    return person


@transaction.atomic
def change_person(person: Person, *, by: Person, at: dt.datetime) -> None:
    """Store changed details; the last owner stays one."""
    if person.role != RoleChoice.OWNER:
        _keep_an_owner(person, field="role")
    _runs_admin(person)
    person.full_clean()
    person.save()
    record(person, verb="change", text=f"Details changed, {person.role}", by=by, at=at)


@transaction.atomic
def set_password(person: Person, *, password: str, by: Person, at: dt.datetime) -> None:
    """Give somebody a new password, which ends their other sessions."""
    person.set_password(password)
    person.save(update_fields=["password"])
    record(person, verb="password", text="New password set", by=by, at=at)


@transaction.atomic
def archive_person(person: Person, *, by: Person, at: dt.datetime) -> None:
    """Shut the door behind somebody who left; what they did stays on record."""
    if person == by:
        raise ValidationError("You can’t shut yourself out.")
    _keep_an_owner(person)
    person.is_active = False
    person.save(update_fields=["is_active"])
    record(person, verb="archive", text="Left; can’t sign in", by=by, at=at)


@transaction.atomic
def restore_person(person: Person, *, by: Person, at: dt.datetime) -> None:
    """Let somebody in again."""
    person.is_active = True
    person.save(update_fields=["is_active"])
    record(person, verb="restore", text="Back; can sign in", by=by, at=at)


@transaction.atomic
def change_profile(shop: ShopProfile, *, by: Person, at: dt.datetime) -> None:
    """Store how the shop presents itself and how it writes lengths, money and time."""
    shop.full_clean()
    shop.save()
    detail: dict[str, Any] = {"currency": shop.currency, "units": shop.unit_system}
    record(by, verb="profile", text="Shop’s page changed", by=by, at=at, detail=detail)
