"""One job from the first telephone call to the last panel, as one person does it."""

from __future__ import annotations

import email
import email.policy
import re
from email.message import EmailMessage
from pathlib import Path

from playwright.sync_api import expect

from tests.browser.hands import Hands
from tests.browser.papers import Paper
from tests.browser.stories import Story


class Journey:
    """Does the steps of a story, each where the one before it ended."""

    def __init__(self, hands: Hands, story: Story) -> None:
        self.hands = hands
        self.story = story

    def sign_in(self, username: str, password: str) -> None:
        """Come in by the front door."""
        hands = self.hands
        hands.go("/")
        hands.sees("Sign in")
        hands.write(Username=username, Password=password)
        hands.press("Sign in")
        hands.sees("Next up")
        hands.tell("sign in")

    def take_the_enquiry(self) -> None:
        """Write down who rang and what for."""
        hands, story = self.hands, self.story
        hands.follow("Clients", inside="nav")
        hands.follow("A new client")
        for label, text in {**story.who, **story.asked}.items():
            hands.fill(label, text)
        for label, option in story.chosen.items():
            hands.choose(label, option)
        hands.press("Write the client down")
        hands.sees(re.compile(re.escape(story.client)))
        hands.tell("a new client")

    def measure_the_room(self) -> None:
        """Add the room and its first survey, with the opening that gets a panel."""
        hands, story = self.hands, self.story
        hands.follow("Add a room")
        hands.fill("Name", story.room)
        hands.press("Write the room down")
        hands.sees(story.room)
        hands.tell("a room")
        hands.follow("Measure", inside="#main")
        for label, text in story.measured.items():
            hands.fill(label, text)
        for label, option in story.made_of.items():
            hands.choose(label, option)
        hands.press("Draw the room")
        hands.sees(f"Survey 1 of {story.room}")
        if story.opening:
            self._add_the_opening()
        hands.tell("the survey")

    def _add_the_opening(self) -> None:
        hands, story = self.hands, self.story
        hands.follow("Add an opening")
        for label, option in story.opening_chosen.items():
            hands.choose(label, option)
        for label, text in story.opening.items():
            hands.fill(label, text)
        hands.tick("It gets a panel")
        hands.open("More readings")
        for label, text in story.more_readings.items():
            hands.fill(label, text)
        hands.press("Store", inside="#openings")
        hands.reads("gets a panel")

    def plan_the_panels(self) -> None:
        """Plan every panel of the story."""
        hands, story = self.hands, self.story
        hands.follow("To the room")
        hands.follow("Plan panels")
        for wanted in story.panels:
            hands.choose("Build", wanted.build)
            for label, text in (("Width", wanted.width), ("Height", wanted.height)):
                if text:
                    hands.fill(label, text)
            if wanted.opening:
                hands.choose("Opening it fills", wanted.opening)
            hands.fill("How many", str(wanted.quantity))
            hands.press("Plan them")
            said = re.compile(rf"{wanted.quantity} ×.*{re.escape(wanted.build)}")
            planned = hands.page.get_by_role("listitem").filter(has_text=said)
            expect(planned).to_be_visible()
        hands.tell("the panels")

    def make_the_quote(self) -> None:
        """Begin a quote from the client's page and open one figure to its bottom."""
        hands, story = self.hands, self.story
        hands.follow(re.compile(re.escape(story.room)))
        hands.follow(re.compile(re.escape(story.client)))
        hands.follow("New quote")
        hands.tick(re.compile(re.escape(story.room)))
        hands.press("Begin the quote")
        hands.sees(re.compile("^Quote Q"))
        hands.tell("the quote")

    def fetch(self, words: str) -> Paper:
        """Fetch the paper behind a link, as the browser would."""
        page = self.hands.page
        link = page.locator("#main").get_by_role("link", name=re.compile(words)).first
        answer = page.request.get(link.get_attribute("href") or "")
        assert answer.headers["content-type"] == "application/pdf"
        return Paper(answer.body())

    def open_down_to(self, *names: str) -> str:
        """Open a figure level by level, each level named; give how the last one came."""
        hands, level = self.hands, self.hands.page.locator("#main")
        for name in names:
            named = f"details.workings:has(> summary:has-text('{name}'))"
            level = level.locator(named).first
            hands.taps += 1
            level.locator("> summary").tap()
        hands.tell("one figure, to its bottom")
        return level.locator(".workings__sums").first.inner_text()

    def send_it(self) -> None:
        """Send the quote with its covering mail as it is offered."""
        hands = self.hands
        hands.follow(re.compile("^Send"))
        hands.press("Send with the PDF")
        hands.reads("in the outbox")
        hands.tell("sending it")

    def hear_yes(self) -> None:
        """Write down the client's yes."""
        hands = self.hands
        hands.page.reload()
        hands.fill("How, and in what words", "By telephone")
        hands.press("Yes: open the job")
        hands.reads("on the bench")
        hands.tell("the client's yes")

    def go_to_the_bench(self) -> None:
        """Open the bench, where the panels hang by now."""
        hands, story = self.hands, self.story
        hands.follow("Bench", inside="nav")
        hands.sees("Bench")
        expect(hands.page.get_by_role("checkbox")).to_have_count(story.count)

    def move_all(self, was: str, stage: str) -> None:
        """Choose every panel at a stage, and move them on."""
        hands, count = self.hands, self.story.count
        hands.press(re.compile(rf"^Choose all of .* that are {was}$"))
        hands.press(stage, inside=".moves")
        hands.reads(f"{count} panels → {stage.lower()}")
        expect(hands.page.get_by_role("checkbox", checked=True)).to_have_count(0)

    def plan_the_day(self, on: str) -> None:
        """Plan the day on which everything goes up."""
        hands = self.hands
        hands.tell("the bench")
        hands.follow(re.compile("^J1"))
        hands.follow("Plan the install day")
        hands.fill("Day", on)
        hands.fill("Arrive at", "07:30")
        hands.tick("Finn")
        hands.press("Plan the day")
        hands.sees(re.compile("Install day of J1"))
        hands.tell("the site day")

    def load_the_van(self) -> int:
        """Tick every line of the van list; give how many there were."""
        hands = self.hands
        hands.follow(re.compile("van list|Load", re.IGNORECASE))
        hands.sees(re.compile("^Van list"))
        left = hands.page.get_by_role("checkbox", checked=False)
        lines = left.count()
        for number in range(lines, 0, -1):
            hands.taps += 1
            left.first.tap()
            expect(left).to_have_count(number - 1)
        hands.reads("Everything is loaded")
        hands.tell("the van list")
        return lines

    def close_the_day(self) -> None:
        """Say that everything hangs."""
        hands = self.hands
        hands.follow(re.compile("^install on", re.IGNORECASE))
        hands.press("The day is done")
        hands.reads("closed by")
        hands.tell("done")


def mail_with_paper(folder: Path) -> tuple[EmailMessage, Paper]:
    """Return the one mail that went out and the paper that it carries."""
    (written,) = folder.iterdir()
    message = email.message_from_bytes(
        written.read_bytes(), policy=email.policy.default
    )
    assert isinstance(message, EmailMessage)
    (attached,) = message.iter_attachments()
    assert attached.get_content_type() == "application/pdf"
    return message, Paper(attached.get_content())
