"""Places where a lower app lets an upper one add to its pages or follow its actions.

A slot is a named list of plain functions that the upper app fills in its apps.py. They are
called in order, inside the caller's transaction where there is one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any, Generic, TypeVar

from django.http import HttpRequest
from django.template.loader import render_to_string
from django.utils.safestring import SafeString

F = TypeVar("F", bound=Callable[..., Any])


@dataclass(slots=True)
class Slot(Generic[F]):
    """A named list of functions."""

    name: str
    _functions: list[F] = field(default_factory=list)

    def add(self, function: F) -> None:
        """Add a function once."""
        if function not in self._functions:
            self._functions.append(function)

    def __iter__(self) -> Iterator[F]:
        return iter(tuple(self._functions))


@dataclass(frozen=True, slots=True)
class Section:
    """A part of a page that an upper app renders: its template and what it reads."""

    template: str
    context: dict[str, Any]


def sections(
    slot: Slot[Callable[[HttpRequest, Any], Section | None]],
    request: HttpRequest,
    subject: object,
) -> list[SafeString]:
    """Render what a slot's functions add to the page of a subject, in order."""
    made = (function(request, subject) for function in slot)
    return [render_to_string(s.template, s.context, request) for s in made if s]
