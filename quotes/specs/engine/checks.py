"""Checks that the constructors of build specs share."""

from __future__ import annotations

from enum import StrEnum

from quotes.specs.engine.errors import TakeoffError

MAX_BEVEL_DEG = 60.0


def not_negative(owner: object, *fields: str) -> None:
    """Refuse any of these fields below zero."""
    for field in fields:
        if getattr(owner, field) < 0:
            raise TakeoffError(field, "This cannot be negative.")


def positive(owner: object, *fields: str) -> None:
    """Refuse any of these fields at or below zero."""
    for field in fields:
        if getattr(owner, field) <= 0:
            raise TakeoffError(field, "Enter more than zero.")


def known(owner: object, **kinds: type[StrEnum]) -> None:
    """Refuse a word that is not one of its list, a plain string too."""
    for field, kind in kinds.items():
        if not isinstance(getattr(owner, field), kind):
            raise TakeoffError(field, f"Choose one of: {', '.join(kind)}.")


def check_bevel(field: str, degrees: float) -> None:
    """Refuse a tilt that no saw has."""
    if not 0 < degrees <= MAX_BEVEL_DEG:
        raise TakeoffError(
            field, f"Enter a bevel over 0 and up to {MAX_BEVEL_DEG:.0f} degrees."
        )
