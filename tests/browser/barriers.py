"""Look for what keeps people out of a page, by axe-core."""

from __future__ import annotations

from pathlib import Path

import axe_playwright_python
from playwright.sync_api import Page

SCRIPT = (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text()
# WCAG 2.0, 2.1 and 2.2 at levels A and AA.
LEVELS = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa")
RUN = """async (only) => {
  const found = await axe.run(document, {runOnly: only, resultTypes: ['violations']});
  return found.violations.map(v => `${v.id}: ${v.nodes.slice(0, 3)
    .map(n => n.target.join(' ')).join(', ')}`);
}"""


def barriers(page: Page) -> list[str]:
    """Return every violation of WCAG 2.2 A and AA, by rule and place."""
    page.evaluate(SCRIPT)
    return _run(page, {"type": "tag", "values": list(LEVELS)})


def faint(page: Page) -> list[str]:
    """Return what can't be read for want of contrast; `barriers` was asked before."""
    return _run(page, {"type": "rule", "values": ["color-contrast"]})


def _run(page: Page, only: dict[str, object]) -> list[str]:
    found: list[str] = page.evaluate(RUN, only)
    return found
