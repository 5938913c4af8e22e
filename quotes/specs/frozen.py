"""Builds, stock and takeoffs as plain JSON and back: what a sent quote keeps, schema 1.

The JSON of a dataclass is an object of its fields, by name: decimals as strings, words
as their values, lengths as whole ticks, tuples as lists. Reading gives an equal object.
Fields are only ever added, with a default: what an older document lacks gets it, and
what is not known is refused.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from decimal import Decimal, InvalidOperation
from enum import StrEnum
from functools import cache
from types import NoneType, UnionType
from typing import Any, TypeVar, Union, cast, get_args, get_origin, get_type_hints

from quotes.specs.engine.model import Build, Stock, Takeoff

SCHEMA = 1

T = TypeVar("T")


class FrozenError(ValueError):
    """Stored JSON that is not what its schema says; the message names the place."""


def to_json(value: Any) -> Any:
    """Return a dataclass of the takeoff as plain JSON."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {f.name: to_json(getattr(value, f.name)) for f in _fields(type(value))}
    if isinstance(value, tuple):
        return [to_json(each) for each in value]
    if isinstance(value, Decimal | StrEnum):
        return str(value)
    return value


def build_from_json(data: Mapping[str, Any]) -> Build:
    """Read a build back."""
    return _read(Build, data, "build")


def stock_from_json(data: Mapping[str, Any]) -> Stock:
    """Read a material's facts back."""
    return _read(Stock, data, "stock")


def takeoff_from_json(data: Mapping[str, Any]) -> Takeoff:
    """Read a takeoff back."""
    return _read(Takeoff, data, "takeoff")


def read(kind: type[T], data: Any, at: str) -> T:
    """Read any dataclass of such fields back; ``at`` names the place in an error."""
    return _read(kind, data, at)


@cache
def _fields(kind: type[Any]) -> tuple[dataclasses.Field[Any], ...]:
    return dataclasses.fields(kind)


@cache
def _hints(kind: type[Any]) -> dict[str, Any]:
    return get_type_hints(kind)


def _read(kind: type[T], data: Any, at: str) -> T:
    """Make one dataclass from an object."""
    if not isinstance(data, Mapping):
        raise FrozenError(f"{at} is not an object")
    hints = _hints(cast("Any", kind))
    if unknown := sorted(set(data) - set(hints)):
        raise FrozenError(f"{at} has an unknown field {unknown[0]}")
    found = {
        name: _value(hints[name], raw, f"{at}.{name}") for name, raw in data.items()
    }
    try:
        return kind(**found)
    except TypeError as error:
        raise FrozenError(f"{at}: {error}") from error


def _value(hint: Any, raw: Any, at: str) -> Any:
    """Make one field's value; the hint says what it must be."""
    if get_origin(hint) in {Union, UnionType}:
        (wanted,) = (each for each in get_args(hint) if each is not NoneType)
        return None if raw is None else _value(wanted, raw, at)
    if get_origin(hint) is tuple:
        if not isinstance(raw, list | tuple):
            raise FrozenError(f"{at} is not a list")
        (inner, *_) = get_args(hint)
        return tuple(_value(inner, each, f"{at}[{i}]") for i, each in enumerate(raw))
    if dataclasses.is_dataclass(hint):
        return _read(hint, raw, at)  # type: ignore[arg-type]
    return _plain(hint, raw, at)


def _plain(hint: Any, raw: Any, at: str) -> Any:
    """Make a word, a number or a text."""
    if issubclass(hint, StrEnum | Decimal):
        try:
            return hint(_of_type(str, raw, at))
        except (ValueError, InvalidOperation) as error:
            raise FrozenError(f"{at} can't be {raw!r}") from error
    if hint is float:
        return float(_of_type((int, float), raw, at))
    return _of_type(hint, raw, at)


def _of_type(kind: Any, raw: Any, at: str) -> Any:
    if not isinstance(raw, kind) or (isinstance(raw, bool) and kind is not bool):
        raise FrozenError(f"{at} can't be {raw!r}")
    return raw
