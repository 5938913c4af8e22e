"""The menu follows the work: each app adds its entries from its apps.py."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from django.conf import settings
from django.http import HttpRequest
from django.urls import NoReverseMatch, reverse

from shared.access import Right, Role, may


@dataclass(frozen=True, slots=True)
class MenuEntry:
    """One place that the menu leads to.

    order: where it stands, by the order of the work. own_order: where it stands for the
    roles whose day begins there, since a phone's bar has room for five.
    """

    order: int
    label: str
    url_name: str
    icon: str
    right: Right | None = None
    own_order: Mapping[Role, int] = field(default_factory=dict, hash=False)

    def order_for(self, role: Role) -> int:
        """Return where it stands for a role."""
        return self.own_order.get(role, self.order)


@dataclass(frozen=True, slots=True)
class ShownEntry:
    """A menu entry as one person sees it on one page."""

    label: str
    url: str
    icon: str
    current: bool


_entries: dict[str, MenuEntry] = {}
_home: list[str] = []


def add_entry(entry: MenuEntry) -> None:
    """Add an entry; adding it again replaces it, so that apps may load twice."""
    _entries[entry.url_name] = entry


def set_home(url_name: str) -> None:
    """Name the page that a person lands on after signing in."""
    _home[:] = [url_name]


def home_url() -> str:
    """Return the page that a person lands on after signing in."""
    return _url(_home[0]) if _home else "/"


def _url(name: str) -> str:
    try:
        return reverse(name)
    except NoReverseMatch:
        return ""


def menu(request: HttpRequest) -> dict[str, Any]:
    """Template context: the entries a person may open, in the order of their work."""
    person = getattr(request, "user", None)
    if person is None or not person.is_authenticated:
        return {"menu": (), "home_url": "/"}
    allowed = (e for e in _entries.values() if e.right is None or may(person, e.right))
    best, role = _current(request.path), Role(person.role)
    shown = tuple(
        ShownEntry(e.label, url, e.icon, current=url == best)
        for e in sorted(allowed, key=lambda e: e.order_for(role))
        for url in (_url(e.url_name),)
        if url
    )
    return {
        "menu": shown,
        "home_url": home_url(),
        "sign_out_url": reverse(settings.SIGN_OUT_URL),
    }


def _current(path: str) -> str:
    """Return the longest menu address that the page's address begins with."""
    urls = (_url(e.url_name) for e in _entries.values())
    # Every address begins with that of a page at "/": it is current on itself alone.
    fitting = (
        u for u in urls if u and (path == u or (u != "/" and path.startswith(u)))
    )
    return max(fitting, key=len, default="")
