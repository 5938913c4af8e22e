"""The system's Chromium, and pages that fail a test when anything goes wrong in them."""

import os
import shutil
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from django.conf import settings as django_settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from playwright.sync_api import (
    Browser,
    BrowserContext,
    Page,
    ViewportSize,
    sync_playwright,
)

# Playwright's own loop runs in the thread of the test, where Django then takes any query
# for one made from asynchronous code.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"

TABLET: ViewportSize = {"width": 1180, "height": 820}
TABLET_UPRIGHT: ViewportSize = {"width": 820, "height": 1180}
PHONE: ViewportSize = {"width": 390, "height": 844}
SIZES = {"tablet": TABLET, "tablet upright": TABLET_UPRIGHT, "phone": PHONE}

CHROMIUM = ("chromium", "chromium-browser", "google-chrome")


def pytest_collection_modifyitems(items):
    here = Path(__file__).parent
    for item in items:
        if here in item.path.parents:
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """Start Debian's Chromium once for each process that runs tests."""
    path = next(filter(None, map(shutil.which, CHROMIUM)), None)
    assert path, "Chromium is missing; type: sudo apt-get install chromium"
    quiet = [
        # The sandbox will not start as root; a small /dev/shm is the rule in containers.
        "--no-sandbox",
        "--disable-dev-shm-usage",
        # What it would otherwise ask of the network at every start.
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        "--disable-quic",
        "--no-first-run",
    ]
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=path, args=quiet)
        yield browser
        browser.close()


@dataclass
class Troubles:
    """What the browser complained about."""

    found: list[str] = field(default_factory=list)

    def watch(self, page: Page) -> None:
        """Write down script errors, and what the policy or the console reports."""
        page.on("pageerror", lambda error: self.found.append(f"script: {error}"))
        page.on("console", self._console)

    def _console(self, message) -> None:
        # An answer of 422 is how a form says what is wrong, and 409 how a move loses to
        # another; Chromium reports both as errors all the same.
        expected = "status of 422" in message.text or "status of 409" in message.text
        if message.type == "error" and not expected:
            self.found.append(f"console: {message.text}")


@pytest.fixture
def troubles() -> Iterator[Troubles]:
    """Collect complaints; a test that ends with any has failed."""
    kept = Troubles()
    yield kept
    assert kept.found == []


@pytest.fixture
def open_browser(chromium, live_server, troubles):
    """Return a function that opens a page of a size, signed in as a person or not.

    The live server empties the database after each test, and starts it empty.
    """
    contexts: list[BrowserContext] = []

    def opened(person=None, *, viewport=TABLET, **options) -> Page:
        context = chromium.new_context(
            base_url=live_server.url, viewport=viewport, has_touch=True, **options
        )
        contexts.append(context)
        if person is not None:
            context.add_cookies([session_cookie(person, live_server.url)])
        page: Page = context.new_page()
        page.set_default_timeout(15_000)
        troubles.watch(page)
        return page

    yield opened
    for context in contexts:
        context.close()


def session_cookie(person, url: str):
    """Return the cookie of a new session in which a person is signed in."""
    session = SessionStore()
    session[SESSION_KEY] = str(person.pk)
    session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
    session[HASH_SESSION_KEY] = person.get_session_auth_hash()
    session.save()
    return {
        "name": django_settings.SESSION_COOKIE_NAME,
        "value": session.session_key,
        "url": url,
    }


def overflows(page: Page) -> bool:
    """Tell whether a page can be scrolled sideways."""
    wider: bool = page.evaluate(
        "document.documentElement.scrollWidth > document.documentElement.clientWidth"
    )
    return wider
