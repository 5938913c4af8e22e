"""A person's hands on a tablet: each tap and key that a task takes is counted."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from playwright.sync_api import Locator, Page, expect

# Printing a paper, and a machine that does much else, take their time.
expect.set_options(timeout=20_000)


@dataclass
class Hands:
    """Taps and types on a page, finding things as a person does: by what they say."""

    page: Page
    taps: int = 0
    keys: int = 0
    told: list[str] = field(default_factory=list)

    def go(self, path: str) -> None:
        """Begin somewhere; the browser's own address line is not counted."""
        self.page.goto(path)

    def sees(self, heading: str | re.Pattern[str]) -> None:
        """Wait for the page with this heading."""
        expect(self.page.get_by_role("heading", level=1)).to_have_text(heading)

    def reads(self, words: str | re.Pattern[str]) -> None:
        """Wait until something can be read on the page."""
        expect(self.page.locator("#main")).to_contain_text(words)

    def follow(self, link: str | re.Pattern[str], *, inside: str = "#main") -> None:
        """Tap a link."""
        self._tap(self.page.locator(inside).get_by_role("link", name=link).first)

    def press(self, button: str | re.Pattern[str], *, inside: str = "#main") -> None:
        """Tap a button."""
        self._tap(self.page.locator(inside).get_by_role("button", name=button).first)

    def open(self, words: str | re.Pattern[str]) -> None:
        """Open a part that is folded away."""
        self._tap(self.page.locator("summary").filter(has_text=words).first)

    def tick(self, label: str | re.Pattern[str]) -> None:
        """Tick a box, if it is not ticked."""
        box = self.page.get_by_label(label).first
        if not box.is_checked():
            self.taps += 1
            box.check()

    def write(self, **texts: str) -> None:
        """Type into fields, named by how their labels begin; blanks are underscores."""
        for name, text in texts.items():
            self.fill(name.replace("_", " "), text)

    def fill(self, label: str, text: str) -> None:
        """Tap one field and type; what stood there is replaced."""
        box = self._labelled(label)
        self.taps += 1
        self.keys += len(text)
        box.fill(text)

    def choose(self, label: str, option: str) -> None:
        """Open a list and choose from it."""
        box = self._labelled(label)
        wanted = box.locator("option").filter(has_text=option).first
        self.taps += 2
        box.select_option(value=wanted.get_attribute("value"))

    def tell(self, task: str) -> None:
        """Note how much the task took so far, and begin to count anew."""
        self.told.append(f"{task:<28} {self.taps:>4} taps {self.keys:>5} keys")
        self.taps = self.keys = 0

    def _labelled(self, label: str) -> Locator:
        name = re.compile(rf"^\s*{re.escape(label)}\b")
        controls = self.page.locator("#main").locator("input, select, textarea")
        return controls.and_(self.page.get_by_label(name)).first

    def _tap(self, target: Locator) -> None:
        self.taps += 1
        target.tap()
