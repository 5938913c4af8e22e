"""Checks that the constructors of build specs share."""

from __future__ import annotations

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


def check_bevel(field: str, degrees: float) -> None:
    """Refuse a tilt that no saw has."""
    if not 0 < degrees <= MAX_BEVEL_DEG:
        raise TakeoffError(
            field, f"Enter a bevel over 0 and up to {MAX_BEVEL_DEG:.0f} degrees."
        )
