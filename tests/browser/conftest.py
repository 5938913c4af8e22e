"""One Chromium for all browser tests: the system's, driven by Playwright."""

import os
import shutil

import pytest
from playwright.sync_api import sync_playwright


@pytest.fixture(scope="session")
def chromium():
    """Return the running browser; each test opens its own context in it."""
    path = os.environ.get("CLEATBOOK_CHROMIUM") or shutil.which("chromium")
    with sync_playwright() as driver:
        browser = driver.chromium.launch(
            executable_path=path, args=["--no-sandbox", "--disable-dev-shm-usage"]
        )
        yield browser
        browser.close()
