"""Three hundred edits and ten photos over three killed pages and a server started anew."""

import io
import itertools

import pytest
from django.test.testcases import LiveServerThread, QuietWSGIRequestHandler
from PIL import Image
from pytest_django.live_server_helper import LiveServer

from shared.files.models import Attachment
from shared.offline.models import Write
from tests.browser.offline.conftest import NOTES, ROOM_NOTES, WALL, WRITES, Line

EDITS, KILLS = 300, 3
PHOTOS = (4, 3, 3)  # before each kill
PICTURES = "**/offline/pictures/"
FIELDS = [*(f"{WALL}{name}" for name in "ABCD"), NOTES, ROOM_NOTES]

TYPE = """async ([fields, edits]) => {
  const boxes = fields.map((one) => document.querySelector(one));
  for (const [place, text] of edits) {
    boxes[place].focus();
    boxes[place].value = text;
    boxes[place].dispatchEvent(new Event("input", { bubbles: true }));
    boxes[place].dispatchEvent(new Event("change", { bubbles: true }));
  }
}"""


class SamePort(LiveServerThread):
    """A server that may take the port of the one before."""

    def _create_server(self, connections_override=None):
        return self.server_class(
            (self.host, self.port),
            QuietWSGIRequestHandler,
            allow_reuse_address=True,
            connections_override=connections_override,
        )


def start(server, port=0):
    """Start a server, at a port of its own or at that of one that has stopped."""
    old = server.thread
    server.thread = SamePort(
        old.host,
        old.static_handler,
        connections_override=old.connections_override,
        port=port,
    )
    server.thread.daemon = True
    server.start()


@pytest.fixture
def own_server(live_server):
    """A server that this test may stop; the session is good for it, too."""
    server = LiveServer("localhost", start=False)
    start(server)
    yield server
    server.stop()


def edits():
    """Each edit says its number: 1000 and on, a length and a note alike."""
    for number, place in zip(range(EDITS), itertools.cycle(range(len(FIELDS)))):
        yield place, f"{1000 + number}"


def photos(count, part):
    """Give photos of different colours, as a camera would."""
    for number in range(count):
        written = io.BytesIO()
        colour = (20 * number, 80 * part, 80)
        Image.new("RGB", (640, 480), colour).save(written, "JPEG")
        name = f"{part}-{number}.jpg"
        yield {"name": name, "mimeType": "image/jpeg", "buffer": written.getvalue()}


def choose(tablet, pictures):
    """Take photos of the room."""
    of_room = f'[data-offline-photo][data-offline-lane="room:{tablet.survey.room_id}"]'
    tablet.page.locator(of_room).set_input_files(pictures)


@pytest.mark.long
def test_nothing_is_lost_nothing_doubled_and_the_order_stays(
    tablet, survey, own_server
):
    tablet.root = own_server.url
    todo = list(edits())
    fields = [tablet.selector(name) for name in FIELDS]
    tablet.walk_offline_able()
    tablet.cut()
    for part in range(KILLS):
        size = EDITS // KILLS
        mine = todo[part * size : (part + 1) * size]
        tablet.page.evaluate(TYPE, [fields, mine])
        choose(tablet, list(photos(PHOTOS[part], part)))
        tablet.has_kept((part + 1) * size + sum(PHOTOS[: part + 1]))
        tablet.kill()
        tablet.walk()
    assert tablet.kept() == EDITS + sum(PHOTOS)
    line = Line(["through", "answer lost", "through", "fault", "cut"])
    tablet.page.route(WRITES, line)
    tablet.page.route(PICTURES, Line(["answer lost", "through", "fault", "cut"]))
    tablet.join()
    own_server.stop()
    start(own_server, port=own_server.thread.port)
    tablet.all_sent()
    assert_all_arrived(todo)
    attached = Attachment.objects.of("room", survey.room_id)
    assert len({one.file.sha256 for one in attached}) == len(attached) == sum(PHOTOS)


def assert_all_arrived(todo):
    """Each edit is stored once, each field's in the order in which they were typed."""
    writes = list(Write.objects.exclude(field="photo"))
    assert len(writes) == EDITS
    assert {write.status for write in writes} == {"stored"}
    by_field = {}
    for write in sorted(writes, key=lambda one: one.answer["version"]):
        field = (write.kind, write.record_id)
        by_field.setdefault(field, []).append(write.answer["value"])
    typed = {}
    for place, text in todo:
        typed.setdefault(place, []).append(text)
    assert sorted(by_field.values()) == sorted(typed.values())
