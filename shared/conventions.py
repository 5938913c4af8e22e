"""The shop's conventions: units, currency, locale, time zone, paper.

One context variable, set for each request by middleware. ``shared`` knows no app:
whoever keeps the shop's profile registers a provider.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from django.http import HttpRequest, HttpResponseBase
from django.utils import timezone

from shared.length import UnitSystem


@dataclass(frozen=True, slots=True)
class Conventions:
    """How this shop writes lengths, money, numbers and times."""

    unit_system: UnitSystem = UnitSystem.METRIC
    fraction: int = 16
    currency: str = "EUR"
    locale: str = "en_GB"
    time_zone: str = "UTC"
    paper: str = "A4"

    @property
    def zone(self) -> ZoneInfo:
        """The time zone as an object."""
        return ZoneInfo(self.time_zone)

    @property
    def is_metric(self) -> bool:
        """Whether a bare number is millimetres."""
        return self.unit_system is UnitSystem.METRIC


Provider = Callable[[], Conventions]

_DEFAULT = Conventions()
_current: ContextVar[Conventions] = ContextVar("conventions", default=_DEFAULT)
_providers: list[Provider] = []


def register_provider(provider: Provider) -> None:
    """Name the function that reads the shop's conventions; the last one counts."""
    _providers[:] = [provider]


def from_provider() -> Conventions:
    """Ask the registered provider (one query, as a rule); the default without one."""
    return _providers[0]() if _providers else _DEFAULT


def current() -> Conventions:
    """Return the conventions in force here."""
    return _current.get()


@contextmanager
def using(conventions: Conventions) -> Iterator[Conventions]:
    """Put conventions in force, and their time zone, for a block."""
    token = _current.set(conventions)
    try:
        with timezone.override(conventions.zone):
            yield conventions
    finally:
        _current.reset(token)


class ConventionsMiddleware:
    """Puts the shop's conventions in force for each request."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        """Keep the next in line."""
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """Answer under the shop's conventions."""
        with using(from_provider()):
            return self.get_response(request)


def today(at: datetime, conventions: Conventions | None = None) -> date:
    """Return the shop's local day of an instant."""
    return at.astimezone((conventions or current()).zone).date()


def start_of_local_day(day: date, conventions: Conventions | None = None) -> datetime:
    """Return the first instant of a local day, in UTC."""
    zone = (conventions or current()).zone
    return datetime.combine(day, time.min, tzinfo=zone).astimezone(UTC)


def end_of_local_day(day: date, conventions: Conventions | None = None) -> datetime:
    """Return the first instant after a local day, in UTC: valid until just before it."""
    return start_of_local_day(day + timedelta(days=1), conventions)
