"""Parts, and a survey with all its parts, are made on a device that is away."""

import json
import re

import pytest
from playwright.sync_api import expect

from shared.offline.models import Write
from shared.offline.registry import find
from shop.clients.models import Client
from shop.surveys.models import Opening, Survey
from tests.browser.offline.conftest import (
    SLOW,
    WRITES,
    Line,
    length_of,
    until,
)

COPY_HAS_A_PART = """async () => {
  const names = (await caches.keys()).filter((name) => name.startsWith("pages-"));
  for (const name of names) for (const request of await (await caches.open(name)).keys()) {
    const page = await (await caches.match(request)).text();
    if (request.url.includes("/parts/") && /data-offline-lane="opening:[0-9a-f]/.test(page))
      return true;
  }
  return false;
}"""
WALK = re.compile(r"/surveys/[0-9a-f-]{36}/walk/$")


@pytest.fixture
def room(tablet, survey, settings):
    """A tablet on a page with one wall, to which openings can be added."""
    settings.ROOT_URLCONF = "tests.browser.offline.parts_urls"
    tablet.path = f"/parts/{survey.pk}/"
    return tablet


def window(room):
    """Add a window."""
    room.page.get_by_role("button", name="Window").click()
    return room.page.locator("article").last


def widths():
    """What the server keeps of the openings."""
    read = find("opening").read
    return sorted(read(one.pk, "width_1") for one in Opening.objects.all())


def test_a_part_made_with_no_network_is_typed_into_and_comes_back(room, survey):
    room.walk_offline_able()
    room.cut()
    part = window(room)
    expect(part.get_by_label("Width")).to_be_focused()
    expect(part.get_by_label("Kind")).to_have_value("window")
    part.get_by_label("Width").fill("900")
    part.get_by_label("Width").blur()
    room.has_kept(2)
    room.kill()
    room.walk()
    expect(part_of(room).get_by_label("Width")).to_have_value("900")
    expect(part_of(room).get_by_label("Kind")).to_have_value("window")
    room.join()
    room.all_sent()
    opening = Opening.objects.get()
    assert (opening.wall.survey, opening.kind, widths()) == (survey, "window", ["900"])
    # What is kept of the page has it from now on.
    until(room.page, COPY_HAS_A_PART)
    room.cut()
    room.walk()
    expect(part_of(room).get_by_label("Width")).to_have_value("900")


def part_of(room):
    """Return the only part."""
    parts = room.page.locator("article")
    expect(parts).to_have_count(1)
    return parts


def test_what_is_typed_into_a_part_says_that_it_needs_it(room):
    line = Line([])
    room.page.route(WRITES, line)
    room.walk()
    room.cut()
    window(room).get_by_label("Width").fill("900")
    window(room).get_by_label("Width").fill("1200")
    room.page.keyboard.press("Tab")
    room.has_kept(4)
    room.join()
    room.all_sent()
    sent = [item for body in line.bodies for item in json.loads(body or "{}")["items"]]
    made = {item["lane"]: item["key"] for item in sent if item["field"] == "new"}
    typed = [item for item in sent if item["field"] != "new"]
    assert all(item["needs"] == made[item["lane"]] for item in typed)
    assert widths() == ["1200", "900"]


def test_a_part_counts_once_when_the_answer_is_lost(room):
    room.page.route(WRITES, Line(["answer lost"]))
    room.walk()
    window(room)
    expect(room.bar()).to_contain_text("No way through")
    room.send()
    room.all_sent()
    assert Opening.objects.count() == 1
    assert Write.objects.count() == 1


def test_a_part_is_there_when_the_page_goes_before_the_database_answers(room):
    room.page.context.add_init_script(SLOW)
    room.walk()
    part = window(room)
    part.get_by_label("Width").fill("900")
    part.get_by_label("Width").blur()
    room.kill()
    room.walk()
    until(room.page, "async () => localStorage.length <= 1")
    room.all_sent()
    assert widths() == ["900"]
    assert Write.objects.filter(status="stored").count() == 2


def test_what_belongs_to_a_part_that_is_refused_is_told_so(room, survey):
    room.walk()
    room.cut()
    part = window(room)
    part.get_by_label("Width").fill("900")
    part.get_by_label("Width").blur()
    room.has_kept(2)
    survey.walls.all().delete()
    room.join()
    expect(part.locator("[data-offline-state]").first).to_have_text(
        "Not taken. What this belongs to was not taken."
    )
    assert room.kept() == 2
    assert not Opening.objects.exists()


def test_what_a_file_brought_is_never_taken_for_markup(room, fitter):
    room.walk()
    room.cut()
    window(room)
    room.has_kept(1)
    room.page.evaluate(ODD)
    room.page.evaluate(SHOW)
    expect(room.page.locator("article")).to_have_count(1)
    assert room.page.locator("img[src=x]").count() == 0


ODD = """() => new Promise((done) => {
  indexedDB.open("cleatbook-device").onsuccess = ({ target: { result: base } }) => {
    const items = base.transaction("items", "readwrite").objectStore("items");
    items.getAll().onsuccess = ({ target: { result: [{ seq, ...one }] } }) => {
      const of = 'wall:"><img src=x>';
      items.add({ ...one, key: "x", lane: "opening:y", value: JSON.stringify({ of }) });
      items.transaction.oncomplete = () => { base.close(); done(); };
    };
  };
})"""
SHOW = """() => document.dispatchEvent(new CustomEvent("device:changed"))"""


class TestBegin:
    """A survey is begun where the room is, whether or not the shop can be reached."""

    @pytest.fixture
    def begun(self, room):
        """The tablet on the page where surveys begin, with no network."""
        room.path = "/surveys/begin/"
        room.walk_offline_able()
        room.cut()
        return room

    def type(self, tablet, label, text):
        """Type into a box of the survey."""
        box = tablet.page.get_by_label(label, exact=True)
        box.fill(text)
        box.blur()

    def test_with_no_network_it_goes_on_here_and_arrives(self, begun, survey):
        begun.page.get_by_role("button", name="New client").click()
        begun.page.wait_for_url(re.compile(r"/surveys/begin/#[0-9a-f-]{36}$"))
        expect(begun.page.get_by_role("heading", name="Begin")).to_be_hidden()
        self.type(begun, "Client", "Wren")
        self.type(begun, "Length", "4321")
        window(begun).get_by_label("Width").fill("900")
        begun.page.keyboard.press("Tab")
        begun.has_kept(5)
        begun.kill()
        begun.page.goto("/offline/")
        begun.page.get_by_role("link", name="New client").first.click()
        expect(begun.page.get_by_label("Client")).to_have_value("Wren")
        expect(begun.page.get_by_label("Width")).to_have_value("900")
        begun.join()
        begun.page.wait_for_url(WALK)
        begun.all_sent()
        made = Survey.objects.exclude(pk=survey.pk).get()
        assert str(made.pk) in begun.page.url
        assert length_of(made) == "4321"
        assert Client.objects.filter(details__name="Wren").exists()
        assert widths() == ["900"]
        assert not Write.objects.exclude(status="stored").exists()

    def test_for_a_room_that_is_known_nobody_is_asked_whose_it_is(self, begun, survey):
        begun.page.get_by_role("button", name="Front room").click()
        expect(begun.page.get_by_role("heading", name="Begun")).to_be_visible()
        assert begun.page.get_by_label("Client").count() == 0
        begun.join()
        begun.page.wait_for_url(WALK)
        begun.all_sent()
        assert survey.room.surveys.count() == 2

    def test_a_room_of_another_shape_has_as_many_walls(self, begun, survey):
        begun.page.get_by_role("button", name="L", exact=True).click()
        expect(begun.page.get_by_text("Wall 6")).to_be_visible()
        assert begun.page.get_by_text("Wall 7").count() == 0
        begun.join()
        begun.page.wait_for_url(WALK)
        assert Survey.objects.exclude(pk=survey.pk).get().walls.count() == 6

    def test_with_a_network_it_goes_on_at_once_on_its_own_page(self, begun, survey):
        begun.join()
        begun.page.get_by_role("button", name="New client").click()
        begun.page.wait_for_url(WALK)
        made = Survey.objects.exclude(pk=survey.pk).get()
        assert str(made.pk) in begun.page.url
        assert made.walls.count() == 4
