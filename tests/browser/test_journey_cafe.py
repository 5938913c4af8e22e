"""The reference job: a café's panels, from the first call to the last screw."""

import sys

import pytest
from django.utils import timezone

from jobs.board.models import Job, JobState, Panel
from quotes.specs.starter import install_starter
from tests.browser.conftest import TABLET_UPRIGHT
from tests.browser.hands import Hands
from tests.browser.journey import Journey, Story, Wanted, mail_with_paper
from tests.browser.papers import check
from tests.factories.people import PASSWORD

CAFE = Story(
    client="Café Driftling",
    who={
        "Name": "Mara Quill",
        "Company": "Café Driftling",
        "Phone": "01632 960 120",
        "E-mail": "mara@driftling.example.org",
        "Address": "3 Weir Lane, Thimbleford",
    },
    asked={
        "What bothers them": "Nobody understands the person across the table.",
        "Floor area": "75",
    },
    chosen={
        "What the room is for": "café",
        "Whose walls they are": "tenant",
        "Who comes in": "open to the public",
    },
    room="Guest room",
    room_use="café",
    measured={"Length": "11840", "Width": "6.32 m", "Height": "3150"},
    made_of={"Walls are made of": "brick", "Ceiling is made of": "board on wood"},
    opening_chosen={"What it is": "window", "Wall": "wall B"},
    opening={
        "From the left corner": "2450",
        "Sill above the floor": "880",
        "Width": "1046",
        "Height": "1389",
    },
    more_readings={
        "Width in the middle": "1043",
        "Width at the bottom": "1044",
        "Height in the middle": "1387",
    },
    panels=(
        Wanted("Wall panel", 14, "600", "1200"),
        Wanted("Hung panel", 4, "1200", "900"),
        Wanted("Reveal panel", 1, opening="window"),
        Wanted("Corner panel", 2, "400", "1200"),
    ),
)


@pytest.fixture
def stocked(shop, owner):
    """A shop with the starter catalogue and the five builds."""
    install_starter(at=timezone.now(), by=owner)


@pytest.fixture
def journey(open_browser, stocked, settings, tmp_path, capsys):
    settings.EMAIL_BACKEND = "django.core.mail.backends.filebased.EmailBackend"
    settings.EMAIL_FILE_PATH = tmp_path / "mail"
    hands = Hands(open_browser(viewport=TABLET_UPRIGHT))
    yield Journey(hands, CAFE)
    with capsys.disabled():
        sys.stdout.write("\n".join(("", *hands.told, "")))


def test_a_cafe_from_the_first_call_to_the_last_panel(journey, run_tasks, settings):
    journey.sign_in("ada", PASSWORD)
    journey.take_the_enquiry()
    journey.measure_the_room()
    journey.plan_the_panels()
    journey.make_the_quote()
    check(journey.look_at_the_paper())
    journey.send_it()
    run_tasks()
    message, paper = mail_with_paper(settings.EMAIL_FILE_PATH)
    check(paper)
    assert message["To"] == "mara@driftling.example.org"
    journey.hear_yes()
    journey.go_to_the_bench()
    for was, stage in (("planned", "Measured"), ("measured", "Built")):
        journey.move_all(stage, was)
    assert Panel.objects.count() == CAFE.count
    assert Job.objects.get().state == JobState.OPEN
