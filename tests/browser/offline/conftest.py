"""A fitter's tablet on a walk round a room, and a network that fails on demand."""

import re
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field

import pytest
from django.urls import reverse
from playwright.sync_api import Page, Route, expect

from shop.surveys.models import Survey, Wall
from tests.factories.surveys import make_survey

WRITES = "**/offline/writes/"
WALL, NOTES, ROOM_NOTES = "Length of wall ", "notes on the survey", "notes on the room"
FIELD = '[data-offline-lane="{lane}"][data-offline-field="{field}"]'
# The browser reports each failed request on the console, too: here they are the point.
EXPECTED = re.compile(
    r"Failed to load resource|when fetching the script|console: htmx:"
)


def until(page: Page, question: str) -> None:
    """Wait until an asynchronous question is answered by yes, at most 30 seconds."""
    page.evaluate(
        f"""() => new Promise((done, failed) => {{
          const question = {question};
          const latest = performance.now() + 30000;
          const look = async () => {{
            if (await question()) done();
            else if (performance.now() > latest) failed(new Error("It never was so."));
            else setTimeout(look, 25);
          }};
          look();
        }})"""
    )


# A device whose database answers late: opening it takes a while, and so does each change.
SLOW = """
const { open } = IDBFactory.prototype;
IDBFactory.prototype.open = function (...asked) {
  let real;
  const late = { get result() { return real.result; } };
  setTimeout(() => {
    real = open.apply(this, asked);
    for (const told of ["onupgradeneeded", "onsuccess", "onerror"])
      real[told] = (event) => late[told]?.(event);
  }, 1500);
  return late;
};
const { transaction } = IDBDatabase.prototype;
IDBDatabase.prototype.transaction = function (stores, mode, options) {
  if (mode === "readwrite") {
    const busy = transaction.call(this, stores, mode).objectStore(stores[0]);
    const latest = performance.now() + 1000;
    const spin = () => {
      if (performance.now() < latest) busy.count().onsuccess = spin;
    };
    spin();
  }
  return transaction.call(this, stores, mode, options);
};
"""


@pytest.fixture
def survey(shop) -> Survey:
    """A survey of a rectangular room, 5 by 4 metres."""
    return make_survey()


@pytest.fixture(autouse=True)
def only_what_was_meant_to_fail(troubles):
    """Leave the complaints about requests that a test made fail."""
    yield
    troubles.found[:] = [one for one in troubles.found if not EXPECTED.search(one)]


@dataclass
class Tablet:
    """A page with the walk, which can be killed and opened again."""

    page: Page
    survey: Survey
    open_page: Callable[[Page], Page]
    root: str = ""
    path: str = ""

    def __post_init__(self) -> None:
        """Go to the walk, if to no other page."""
        self.path = reverse("shop:survey-walk", args=[self.survey.pk])

    def walk(self) -> None:
        """Open the walk; with a worker in charge from the second time on."""
        self.page.goto(f"{self.root}{self.path}")

    def walk_offline_able(self) -> None:
        """Open the walk and wait until it opens with no network."""
        self.walk()
        until(self.page, PAGE_IS_KEPT)

    def selector(self, name: str) -> str:
        """Tell where a field is: a wall's length, or the notes on survey or room."""
        if name.startswith(WALL):
            wall = self.survey.walls.get(name=name.removeprefix(WALL))
            return FIELD.format(lane=f"wall:{wall.pk}", field="length")
        record = {NOTES: self.survey, ROOM_NOTES: self.survey.room}[name]
        kind = record._meta.model_name
        return FIELD.format(lane=f"{kind}:{record.pk}", field="notes")

    def box(self, name: str):
        """Return a field of the walk."""
        return self.page.locator(self.selector(name))

    def state(self, name: str):
        """Return what is said beside a field."""
        fields = self.page.locator(".field").filter(has=self.box(name))
        return fields.locator("[data-offline-state]")

    def type(self, name: str, text: str) -> None:
        """Type into a field and leave it; it is on the device when this returns."""
        self.box(name).fill(text)
        self.box(name).blur()
        expect(self.state(name)).not_to_be_empty()

    def echo(self, name: str):
        """Return how a length was understood."""
        fields = self.page.locator(".field").filter(has=self.box(name))
        return fields.locator("[data-length-echo]")

    def bar(self):
        """Return the words on what is kept."""
        return self.page.locator("[data-offline-words]")

    def send(self) -> None:
        """Press the button, unless it is gone since all was sent meanwhile."""
        self.page.evaluate("document.querySelector('[data-offline-send]').click()")

    def all_sent(self) -> None:
        """Wait until nothing is left here."""
        until(self.page, f"() => ({COUNT_KEPT})().then((kept) => kept === 0)")

    def has_kept(self, count: int) -> None:
        """Wait until so many items are on this device."""
        until(self.page, f"() => ({COUNT_KEPT})().then((kept) => kept === {count})")

    def kept(self) -> int:
        """Count what this device keeps, whoever's it is."""
        return int(self.page.evaluate(COUNT_KEPT))

    def cut(self) -> None:
        """Take the network away."""
        self.page.context.set_offline(True)

    def join(self) -> None:
        """Give the network back."""
        self.page.context.set_offline(False)

    def kill(self) -> None:
        """Close the page as a device does that needs room, and open another one."""
        context = self.page.context
        self.page.close()
        self.page = self.open_page(context.new_page())


PAGE_IS_KEPT = """async () =>
  Boolean(navigator.serviceWorker.controller) &&
  (await caches.keys()).some((name) => name.startsWith("pages-"))"""
COUNT_KEPT = """() => new Promise((done) => {
  const opened = indexedDB.open("cleatbook-device");
  opened.onsuccess = () => {
    const all = opened.result.transaction("items").objectStore("items").count();
    all.onsuccess = () => { opened.result.close(); done(all.result); };
  };
})"""


@pytest.fixture
def tablet(open_browser, fitter, survey, troubles) -> Tablet:
    """The fitter's tablet."""

    def ready(page: Page) -> Page:
        page.set_default_timeout(15_000)
        troubles.watch(page)
        return page

    return Tablet(open_browser(fitter), survey, ready)


@dataclass
class Line:
    """The way to the server, with what happens on it, once for each item."""

    events: list[str]
    bodies: list[bytes | None] = field(default_factory=list)

    def __call__(self, route: Route) -> None:
        """Let a request through, or not, as the list of events says."""
        event = self.events.pop(0) if self.events else "through"
        self.bodies.append(route.request.post_data_buffer)
        if event == "cut":
            route.abort()
        elif event == "answer lost":
            route.fetch()
            route.abort()
        elif event == "fault":
            route.fulfill(status=500, body="<h1>Sorry</h1>")
        elif event == "portal":
            route.fulfill(status=200, content_type="text/html", body="<h1>Wifi</h1>")
        else:
            with suppress(Exception):
                route.continue_()


def length_of(survey: Survey, name: str = "A") -> str:
    """What the server keeps of a wall."""
    return Wall.objects.get(survey=survey, name=name).length_text
