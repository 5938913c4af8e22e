"""The walk: a survey begun with no network, parts made there, what unfolds, what is read."""

import re

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from shop.clients.models import Client
from shop.surveys.models import Opening, Reading, Survey, Wall, Zone
from tests.browser.hands import Hands
from tests.browser.offline.conftest import PAGE_IS_KEPT, length_of, until
from tests.factories.surveys import make_opening, wall_of

BEGIN_IS_KEPT = """async () => {
  const names = (await caches.keys()).filter((name) => name.startsWith("pages-"));
  const found = await Promise.all(names.map(async (name) => (await caches.open(name)).match("/surveys/begin/")));
  return Boolean(navigator.serviceWorker.controller) && found.some(Boolean);
}"""


@pytest.fixture
def away(tablet):
    """The tablet on the page of rooms, with the page that begins surveys kept on it."""
    tablet.page.goto(reverse("shop:rooms"))
    until(tablet.page, BEGIN_IS_KEPT)
    tablet.cut()
    return tablet


def box(tablet, label):
    """Return a box by the whole of its label."""
    return tablet.page.get_by_label(label, exact=True)


def fill(tablet, label, text):
    """Type into a box and leave it; it is on the device when this returns."""
    here = box(tablet, label)
    here.fill(text)
    here.blur()
    field = tablet.page.locator(".field").filter(has=here)
    expect(field.locator("[data-offline-state]")).not_to_be_empty()


def add(tablet, part):
    """Press a button that adds a part; its first box has the focus."""
    tablet.page.get_by_role("button", name=part, exact=True).click()


def type_here(tablet, *texts):
    """Type a reading into the box with the focus and go on by Enter, as a laser does."""
    for text in texts:
        tablet.page.keyboard.type(text)
        tablet.page.keyboard.press("Enter")


def test_a_survey_is_begun_and_read_with_no_network(away, survey):
    page = away.page
    page.goto(reverse("shop:survey-begin"))
    page.get_by_role("button", name="New client", exact=True).click()
    fill(away, "Client’s name", "Mara Quill")
    fill(away, "Ceiling height", "2500")
    fill(away, "Length of wall A", "5 m")
    add(away, "Window in wall A")
    type_here(away, "900", "850", "1200", "1300")
    page.get_by_role("heading", name="Notes").click()  # nothing is typed any more
    assert Survey.objects.count() == 1
    away.join()
    expect(page).to_have_url(re.compile("/walk/$"))
    away.all_sent()
    made = Survey.objects.exclude(pk=survey.pk).get()
    assert (made.height_text, length_of(made)) == ("2500", "5 m")
    assert str(made.room.site.client) == "Mara Quill"
    opening = Opening.objects.get(wall__survey=made)
    assert (opening.kind, opening.from_left_text) == ("window", "900")
    assert [r.text for r in opening.readings.all()] == ["1300", "1200"]


def test_a_survey_begun_here_is_still_here_when_the_page_was_killed(away, survey):
    away.page.goto(reverse("shop:survey-begin"))
    away.page.get_by_role("button", name="L shape for a new client").click()
    fill(away, "Length of wall F", "2.4 m")
    assert "1 of 14 read" in read_so_far(away)  # all of the walk, before leaving
    address = away.page.url
    away.kill()
    away.page.goto(address)
    expect(box(away, "Length of wall F")).to_have_value("2.4 m")
    away.join()
    expect(away.page).to_have_url(re.compile("/walk/$"))
    away.all_sent()
    walls = Wall.objects.exclude(survey=survey)
    assert "".join(wall.corner[0] for wall in walls) == "rrrlrr"
    assert walls.get(name="F").length_text == "2.4 m"


@pytest.mark.parametrize("entry", ["jobs:next-up", "shop:rooms"])
def test_the_first_reading_takes_three_taps(tablet, survey, entry):
    hands = Hands(tablet.page)
    hands.go(reverse(entry))
    hands.follow("New survey")
    hands.press("New client")
    expect(tablet.page).to_have_url(re.compile("/walk/$"))
    hands.fill("Ceiling height", "2500")
    tablet.page.keyboard.press("Enter")
    assert hands.taps == 3
    tablet.all_sent()
    made = Survey.objects.exclude(pk=survey.pk).get()
    assert made.height_text == "2500"
    assert Client.objects.count() == 2


def test_parts_made_with_no_network_outlive_the_page(tablet, survey):
    tablet.walk_offline_able()
    tablet.cut()
    add(tablet, "Outlet on wall B")
    type_here(tablet, "400", "300")
    add(tablet, "Another wall after wall B")
    type_here(tablet, "1.2 m")
    tablet.has_kept(5)
    tablet.kill()
    tablet.walk()
    left = tablet.page.get_by_label("From the left of the new place", exact=True)
    expect(left).to_have_value("400")
    named = tablet.page.get_by_role("heading", name="Outlet on wall B", exact=True)
    expect(named).to_be_visible()
    tablet.join()
    tablet.all_sent()
    zone = Zone.objects.get()
    assert (zone.kind, zone.wall.name) == ("outlet", "B")
    assert (zone.left_text, zone.bottom_text) == ("400", "300")
    assert "".join(wall.name for wall in survey.walls.standing()) == "ABECD"
    assert length_of(survey, "E") == "1.2 m"


def test_what_is_taken_out_folds_and_comes_back(tablet, survey):
    opening = make_opening(wall=wall_of(survey))
    tablet.walk()
    place = box(tablet, "From the left corner of window in A")
    out = tablet.page.locator(f"#opening-{opening.pk} [data-offline-field=removed]")
    expect(place).to_be_visible()
    out.check()
    expect(place).to_be_hidden()
    tablet.all_sent()
    assert not Opening.objects.standing().exists()
    out.uncheck()
    expect(place).to_be_visible()
    tablet.all_sent()
    assert Opening.objects.standing().exists()


def test_what_a_panel_asks_for_unfolds_with_it(tablet, survey):
    make_opening(wall=wall_of(survey))
    tablet.walk()
    deeper = box(tablet, "Width in the middle of window in A")
    expect(deeper).to_be_hidden()
    tablet.page.get_by_label("It gets a panel").check()
    fill(tablet, "Width in the middle of window in A", "905")
    tablet.all_sent()
    assert Reading.objects.filter(axis="width", place=2, text="905").exists()


def test_a_corner_asks_for_its_reading(tablet, survey):
    tablet.walk()
    angle = box(tablet, "Angle inside the room of wall A")
    expect(angle).to_be_hidden()
    box(tablet, "Corner at its end of wall A").select_option("angle")
    fill(tablet, "Angle inside the room of wall A", "135")
    tablet.all_sent()
    wall = wall_of(survey)
    assert (wall.corner, wall.turn_millidegrees) == ("angle", 45_000)


def read_so_far(tablet):
    """What is said under each part of how much of it is read, as a screen reader has it."""
    session = tablet.page.context.new_cdp_session(tablet.page)
    nodes = session.send("Accessibility.getFullAXTree")["nodes"]
    name = {node["nodeId"]: node.get("name", {}).get("value", "") for node in nodes}
    lines = ("".join(name[one] for one in node.get("childIds", [])) for node in nodes)
    return sorted(re.findall(r"\d+ of \d+ read", "|".join(lines)))


def test_how_much_is_read_is_counted_as_it_is_typed(tablet, survey):
    Wall.objects.filter(survey=survey).exclude(name="A").delete()
    tablet.walk()
    assert read_so_far(tablet) == ["1 of 2 read", "1 of 2 read", "2 of 4 read"]
    tablet.cut()
    add(tablet, "Door in wall A")
    assert read_so_far(tablet) == ["1 of 2 read", "1 of 5 read", "2 of 7 read"]
    type_here(tablet, "900", "1010")
    assert read_so_far(tablet) == ["1 of 2 read", "3 of 5 read", "4 of 7 read"]


def test_before_leaving_what_is_missing_is_asked_anew(tablet, survey):
    tablet.walk()
    until(tablet.page, PAGE_IS_KEPT.replace("navigator.serviceWorker.controller", "1"))
    for wall in "AC":
        fill(tablet, f"Length of wall {wall}", "")
    tablet.all_sent()
    leave = tablet.page.locator("#leave")
    tablet.page.get_by_role("link", name="Look again").click()
    expect(leave).to_contain_text("Wall C: length not read yet.")
    for wall in "AC":
        fill(tablet, f"Length of wall {wall}", "5000")
    tablet.all_sent()
    tablet.page.get_by_role("link", name="Look again").click()
    expect(leave.locator("svg").first).to_be_visible()


def test_one_answer_for_all_walls_leaves_those_that_have_one(tablet, survey):
    survey.walls.update(construction="")
    survey.walls.filter(name="B").update(construction="brick")
    tablet.walk_offline_able()
    tablet.cut()
    box(tablet, "All walls are made of").select_option("lath")
    box(tablet, "Made of wall D").select_option("glass")
    tablet.has_kept(4)
    tablet.join()
    tablet.all_sent()
    made = survey.walls.values_list("name", "construction")
    assert dict(made) == {"A": "lath", "B": "brick", "C": "lath", "D": "glass"}


def test_two_numbers_make_a_rectangle(tablet, survey):
    survey.walls.update(length_ticks=None, length_text="")
    tablet.walk()
    fill(tablet, "Length of wall A", "5 m")
    told = tablet.page.locator("[data-plan-told]")
    expect(told).to_have_text("Not read yet: walls B and D.")
    fill(tablet, "Length of wall B", "4 m")
    expect(told).to_contain_text("The walls close to 0 mm")
    tablet.all_sent()
    tablet.page.goto(survey.get_absolute_url())
    expect(tablet.page.locator("#told")).to_contain_text(
        "Wall C: length not read; taken as that of the wall opposite."
    )
