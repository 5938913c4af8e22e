"""Finishes, counts, places and photos of walls, noted in a basement and sent upstairs."""

import io

import pytest
from PIL import Image
from playwright.sync_api import expect

from shared.files.models import Attachment
from shop.surveys.models import Covering, Furniture, Opening, Spot
from tests.factories.catalogue import make_finish
from tests.factories.surveys import mm, wall_of


@pytest.fixture
def picture():
    """A photo as a camera gives it."""
    written = io.BytesIO()
    Image.new("RGB", (640, 480), "olive").save(written, "JPEG")
    return {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": written.getvalue()}


def leave(box, text):
    """Type into a box and leave it; it is on the device when this returns."""
    box.fill(text)
    box.blur()
    state = box.locator("xpath=ancestor::*[contains(@class,'field')][1]")
    expect(state.locator("[data-offline-state]")).not_to_be_empty()


def test_all_of_it_is_noted_with_no_network_and_arrives(tablet, survey):
    cork = make_finish(name="Cork")
    tablet.walk_offline_able()
    tablet.cut()
    page = tablet.page
    page.get_by_label("Finished like a").select_option("voice")
    page.locator("#inside").get_by_role("button", name="Floor", exact=True).click()
    part = page.locator("#inside article").last
    expect(part.get_by_label("Covered with")).to_be_focused()
    part.get_by_label("Covered with").select_option("Cork")
    part.get_by_text("Only a part of it").click()
    leave(part.get_by_label("Width, if a part"), "2 m")
    leave(part.get_by_label("Height, if a part"), "1 m")
    leave(page.get_by_label("People, usually"), "3")
    page.get_by_role("button", name="Loudspeaker", exact=True).click()
    spot = page.locator("#places article").last
    leave(spot.get_by_label("From the last wall"), "1200")
    leave(spot.get_by_label("From the first wall"), "800")
    leave(page.get_by_label("Narrowest door on the way in"), "720")
    tablet.kill()
    tablet.walk()
    expect(page_part(tablet).get_by_label("Covered with")).to_have_value(str(cork.pk))
    tablet.join()
    tablet.all_sent()
    rug = Covering.objects.get(surface="floor", finish=cork)
    assert (rug.width_ticks, rug.height_ticks) == (mm(2000), mm(1000))
    whole = Covering.objects.filter(width_ticks=None)
    assert {row.surface for row in whole} == {"walls", "ceiling", "floor"}
    assert Furniture.objects.get().count == 3
    loudspeaker = Spot.objects.get()
    assert (loudspeaker.kind, loudspeaker.left_ticks) == ("loudspeaker", mm(1200))
    survey.room.site.refresh_from_db()
    assert survey.room.site.narrowest_door_ticks == mm(720)


def page_part(tablet):
    """Return the only finish."""
    parts = tablet.page.locator("#inside article")
    expect(parts).to_have_count(1)
    return parts


def test_photos_of_a_window_that_was_made_there_find_it(tablet, survey, picture):
    tablet.walk_offline_able()
    tablet.cut()
    wall = tablet.page.locator(f"#wall-{wall_of(survey, 'B').pk}")
    wall.get_by_role("button", name="Window in wall B").click()
    window = wall.locator("article").last
    window.get_by_text("Finish of its own, photos").click()
    window.get_by_label("Take or choose photos").set_input_files([picture] * 2)
    tablet.has_kept(3)
    tablet.join()
    tablet.all_sent()
    opening = Opening.objects.get()
    assert opening.wall.name == "B"
    assert Attachment.objects.of("opening", opening.pk).count() == 2
    tablet.walk()
    shown = tablet.page.locator(f"#opening-{opening.pk} img")
    expect(shown).to_have_count(2)
    tablet.page.locator(f"#opening-{opening.pk}").get_by_label(
        "Take out photo 1 of"
    ).check()
    tablet.all_sent()
    assert Attachment.objects.of("opening", opening.pk).standing().count() == 1
