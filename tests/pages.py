"""Read pages back by element, and the questions every page and form is asked."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from bs4 import BeautifulSoup, Tag
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

NUL = "a\0b"
TURNED = "a\u202eb"
UNSEEN = "\u200b\u200d"
BAD_TEXTS = (NUL, TURNED, UNSEEN)
"""Texts that no field for people takes: a NUL, a turned direction, nothing to see."""

GOOD_TEXTS = ("Ångström & Söhne", "مقهى", "☕ Café", "e\u0301tude", "<b>O’Hara</b>")
"""Odd texts that are names all the same."""


def soup(response: Any) -> BeautifulSoup:
    """Parse an answer."""
    return BeautifulSoup(response.content.decode(), "html.parser")


def text(node: Tag | None) -> str:
    """All words of an element, with single spaces."""
    assert node is not None, "there is no such element"
    return " ".join(node.get_text(" ").split())


def shown(page: BeautifulSoup, name: str) -> str | bool | None:
    """What a control shows now; nothing when a select shows no choice of the typed one."""
    control = page.select_one(f'[name="{name}"]')
    assert isinstance(control, Tag), f"there is no control called {name}"
    if control.name == "textarea":
        return control.get_text().removeprefix("\n")
    if control.name == "select":
        chosen = control.find("option", selected=True)
        return str(chosen["value"]) if isinstance(chosen, Tag) else None
    if control.get("type") == "checkbox":
        return control.has_attr("checked")
    return str(control.get("value", ""))


def refused(
    browser: Client, url: str, typed: Mapping[str, str], field: str
) -> BeautifulSoup:
    """Post and check: 422, a sentence beside the field, everything typed still there."""
    response = browser.post(url, typed)
    assert response.status_code == 422, response.status_code
    page = soup(response)
    beside = page.select(f"#id_{field}_field .errorlist li")
    assert beside, f"nothing is said beside {field}"
    assert all(text(sentence) for sentence in beside)
    for name, value in typed.items():
        _kept(page, name, value)
    return page


def _kept(page: BeautifulSoup, name: str, value: str) -> None:
    control = page.select_one(f'[name="{name}"]')
    assert isinstance(control, Tag), f"there is no control called {name}"
    if control.name == "select" or control.get("type") == "password":
        return  # a choice that does not exist can't be shown; a password must not be
    now = shown(page, name)
    if isinstance(now, bool):
        assert now == bool(value)
    else:
        assert now == value.replace("\r\n", "\n")


def queries(browser: Client, url: str) -> int:
    """How many queries a page takes."""
    with CaptureQueriesContext(
        connection,
    ) as caught:
        assert browser.get(url).status_code == 200
    return len(caught)


def grows(browser: Client, url: str, make: Callable[[], object]) -> int:
    """How many queries more a page takes with twenty rows than with two."""
    for _ in range(2):
        make()
    browser.get(url)  # whatever is only asked for once
    few = queries(browser, url)
    for _ in range(18):
        make()
    return queries(browser, url) - few
