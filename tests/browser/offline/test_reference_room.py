"""A whole room noted in a basement: an L with a cut corner, and all that is in it.

Each tap and key is counted and printed (``pytest -s``), so that the count can come down.
"""

import io
import re
import sys

import pytest
from django.urls import reverse
from PIL import Image
from playwright.sync_api import FilePayload, expect

from shared.files.models import Attachment
from shop.surveys.adapter import room_in
from shop.surveys.models import Opening, Survey, Zone
from tests.browser.hands import Hands
from tests.browser.offline.conftest import until
from tests.browser.offline.test_walk import BEGIN_IS_KEPT
from tests.factories.surveys import mm

# The walk: each wall's length in mm, with what is on it: what to press, and its readings.
WALLS = {
    "A": (
        "4800",
        [("Window", ["900", "850", "1400", "1200"]), ("Outlet", ["300", "300"])],
    ),
    "B": ("1697", []),
    "C": ("2800", [("Door", ["200", "900", "2050"]), ("Switch", ["1250", "1100"])]),
    "D": ("3000", [("Outlet", ["400", "300"]), ("Radiator", ["900", "120"])]),
    "E": ("1600", [("Thermostat", ["600", "1500"])]),
    "F": ("3000", [("Outlet", ["350", "300"])]),
    "G": ("2400", [("Window", ["500", "850", "1200", "1200"])]),
}
ANGLES = {"A": "135", "B": "135"}
OVERHEAD = [
    ("Smoke or heat detector", ["2400", "1800"]),
    ("Recessed light", ["1500", "1200"]),
    ("Recessed light", ["4500", "1200"]),
]


class Laser(Hands):
    """A hand that taps, and a meter that types its reading and then Enter."""

    def read(self, *readings: str) -> None:
        """Type readings one after the other, from the box with the focus on."""
        for reading in readings:
            self.keys += len(reading) + 1
            self.page.keyboard.type(reading)
            self.page.keyboard.press("Enter")

    def into(self, label: str, *readings: str) -> None:
        """Tap a box and read from there on."""
        self.taps += 1
        self.page.get_by_label(label, exact=True).tap()
        self.read(*readings)

    def photograph(self, label: str, pictures: list[FilePayload]) -> None:
        """Tap for the camera; the camera's own button is not counted."""
        self.taps += 1
        self.page.get_by_label(label).last.set_input_files(pictures)


@pytest.fixture
def six_photos():
    written = io.BytesIO()
    Image.new("RGB", (320, 240), "olive").save(written, "JPEG")
    picture = {"mimeType": "image/jpeg", "buffer": written.getvalue()}
    return [picture | {"name": f"{number}.jpg"} for number in range(6)]


def around():
    """Give what is read on the way round: each wall, and the angle of a corner not square."""
    for name, (length, _) in WALLS.items():
        yield length
        if name in ANGLES:
            yield ANGLES[name]


def note_room(hands, photos):
    hands.follow("New survey")
    hands.press(re.compile("L shape with a cut corner"))
    hands.fill("Client’s name", "Ilva Brandt")
    hands.into("Ceiling height", "2500", *around())
    hands.tell("begun, heights, walls")
    for name, (_, parts) in WALLS.items():
        for part, readings in parts:
            joint = "in" if part in ("Window", "Door") else "on"
            hands.press(re.compile(f"^{part} {joint} wall {name}$"))
            hands.read(*readings)
    for part, readings in OVERHEAD:
        hands.press(re.compile(f"^{part} on the ceiling$"))
        hands.read(*readings)
    hands.tell("openings, keep clear")
    hands.photograph("Take or choose photos", photos)
    hands.tell("photos")


@pytest.mark.long
def test_the_reference_room_is_noted_with_no_network(
    tablet, survey, six_photos, capsys
):
    page = tablet.page
    page.goto(reverse("shop:rooms"))
    until(page, BEGIN_IS_KEPT)
    tablet.cut()
    hands = Laser(page)
    note_room(hands, six_photos)
    page.get_by_role("heading", name="Notes").click()  # nothing is typed any more
    tablet.join()
    expect(page).to_have_url(re.compile("/walk/$"))
    tablet.all_sent()
    made = Survey.objects.with_parts().exclude(pk=survey.pk).get()
    read = room_in(made)
    assert [wall.length_text for wall in made.walls.all()] == [
        length for length, _ in WALLS.values()
    ]
    assert Opening.objects.filter(wall__survey=made).count() == 3
    assert Zone.objects.filter(survey=made).count() == 9
    assert Attachment.objects.of("room", made.room_id).count() == 6
    assert read.plan.closing_ticks < mm(5)
    with capsys.disabled():
        sys.stdout.write("\n\n" + "\n".join(hands.told) + "\n")
