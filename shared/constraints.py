"""Check constraints of a row without asking the database, for many rows at a time.

``Model.full_clean`` asks the database once for each constraint of each row. This reads the
same conditions in Python, unknown (NULL) included; one that it can't read is left to Django.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Collection, Iterable, Iterator
from typing import Any

from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import F, Q
from django.db.models.expressions import CombinedExpression, Value

_COMPARED: dict[str, Callable[[Any, Any], bool]] = {
    "exact": operator.eq,
    "gt": operator.gt,
    "gte": operator.ge,
    "lt": operator.lt,
    "lte": operator.le,
}
_COMBINED: dict[str, Callable[[Any, Any], Any]] = {
    "+": operator.add,
    "-": operator.sub,
    "*": operator.mul,
}


class _UnreadError(Exception):
    """A condition that has to be left to the database."""


def check_row(row: models.Model, *, exclude: Collection[str] = ()) -> None:
    """Raise what the row's check constraints say; one on a field left out is not asked."""
    broken: list[ValidationError] = []
    for constraint in row._meta.constraints:
        if not isinstance(constraint, models.CheckConstraint):
            continue
        if not _fields(constraint.condition).isdisjoint(exclude):
            continue
        try:
            if holds(constraint.condition, row) is False:
                message = constraint.get_violation_error_message()
                broken.append(ValidationError(message, code=constraint.name))
        except _UnreadError:
            constraint.validate(type(row), row, exclude=set(exclude))
    if broken:
        raise ValidationError(broken)


def holds(condition: Any, row: models.Model) -> bool | None:
    """Whether a condition holds; nothing when that is unknown, which a check lets pass."""
    if not isinstance(condition, Q):
        raise _UnreadError
    parts: list[Any] = list(condition.children)
    found = (
        holds(part, row) if isinstance(part, Q) else _compare(part[0], part[1], row)
        for part in parts
    )
    known = _all(found) if condition.connector == Q.AND else _any(found)
    return known if known is None or not condition.negated else not known


def _all(found: Iterable[bool | None]) -> bool | None:
    results = set(found)
    return False if False in results else None if None in results else True


def _any(found: Iterable[bool | None]) -> bool | None:
    results = set(found)
    return True if True in results else None if None in results else False


def _compare(path: str, wanted: Any, row: models.Model) -> bool | None:
    name, _, lookup = path.partition("__")
    here = getattr(row, name)
    if lookup == "isnull":
        return (here is None) is wanted
    if here is None:
        return None
    if lookup == "in":
        return here in wanted
    if lookup == "range":
        least, most = wanted
        return bool(least <= here <= most)
    compared = _COMPARED.get(lookup or "exact")
    other = _value(wanted, row)
    if compared is None:
        raise _UnreadError
    return None if other is None else compared(here, other)


def _value(wanted: Any, row: models.Model) -> Any:
    """Work out what a field is compared with."""
    if isinstance(wanted, F):
        return getattr(row, _name(wanted))
    if isinstance(wanted, CombinedExpression):
        sides = [_value(side, row) for side in (wanted.lhs, wanted.rhs)]
        if wanted.connector not in _COMBINED:
            raise _UnreadError
        return None if None in sides else _COMBINED[wanted.connector](*sides)
    if isinstance(wanted, Value):
        return wanted.value
    if hasattr(wanted, "resolve_expression"):
        raise _UnreadError
    return wanted


def _name(field: Any) -> str:
    """Return the name of the field that an F is about."""
    return str(field.name)


def _fields(condition: Any) -> set[str]:
    """Return the names of the fields that a condition is about."""
    return set(_named(condition))


def _named(condition: Any) -> Iterator[str]:
    if isinstance(condition, Q):
        for part in condition.children:
            if isinstance(part, tuple):
                yield part[0].partition("__")[0]
                yield from _named(part[1])
            else:
                yield from _named(part)
    elif isinstance(condition, F):
        yield _name(condition)
    elif isinstance(condition, CombinedExpression):
        yield from _named(condition.lhs)
        yield from _named(condition.rhs)
