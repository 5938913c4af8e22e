"""Two jobs from the first call to the last screw: a café, and a booth in feet and inches."""

import datetime as dt
import itertools
import sys

import pytest
from django.utils import timezone

from jobs.board.models import STAGES, Job, JobState, Panel
from quotes.offers.models import QuoteRevision
from quotes.specs.starter import install_starter
from shared.length import UnitSystem
from tests.browser.conftest import TABLET_UPRIGHT
from tests.browser.hands import Hands
from tests.browser.journey import Journey, mail_with_paper
from tests.browser.papers import check
from tests.browser.stories import BOOTH, CAFE
from tests.factories.people import PASSWORD, make_profile

# From what the client pays for a panel down to the gluing of its corners.
TO_THE_CORNERS = (
    "How it comes about",
    "Price of Wall panel",
    "Price of Wall panel",
    "Cost of Wall panel",
    "Labour",
    "Glue and fasten corners",
)
TOMORROW = (timezone.now() + dt.timedelta(days=1)).date()


@pytest.fixture
def begin(open_browser, owner, fitter, settings, tmp_path, capsys):
    """Return a function that opens a shop with the starter's stores, and a browser."""
    settings.EMAIL_BACKEND = "django.core.mail.backends.filebased.EmailBackend"
    settings.EMAIL_FILE_PATH = tmp_path / "mail"
    begun = []

    def opened(story, units=UnitSystem.METRIC, **profile):
        make_profile(name="Quillback Panels", unit_system=units.value, **profile)
        install_starter(at=timezone.now(), by=owner, units=units)
        begun.append(Journey(Hands(open_browser(viewport=TABLET_UPRIGHT)), story))
        return begun[-1]

    yield opened
    with capsys.disabled():
        for journey in begun:
            sys.stdout.write("\n".join(("", journey.story.client, *journey.hands.told)))


def up_to_sending(journey):
    journey.sign_in("ada", PASSWORD)
    journey.take_the_enquiry()
    journey.measure_the_room()
    journey.plan_the_panels()
    journey.make_the_quote()


def quote_of(journey, run_tasks, settings):
    """Look at the paper, send it, and return it as it came by mail."""
    check(journey.fetch("Look at the paper"))
    journey.send_it()
    run_tasks()
    message, paper = mail_with_paper(settings.EMAIL_FILE_PATH)
    assert message["To"] == journey.story.mail
    check(paper)
    revision = QuoteRevision.objects.get()
    assert revision.reference in paper.words
    assert f"{revision.total:,.2f}" in paper.words
    assert len(paper.figures()) >= len(journey.story.panels)
    return paper


def from_bench_to_wall(journey):
    """Load the van and hang everything; return van list's lines and the install sheet."""
    journey.plan_the_day(f"{TOMORROW:%Y-%m-%d}")
    sheet = journey.fetch("[Ii]nstall sheet")
    lines = journey.load_the_van()
    journey.close_the_day()
    check(sheet)
    for panel in Panel.objects.all():
        assert panel.code in sheet.words or panel.code.split("-")[1] in sheet.words
    assert Job.objects.get().state == JobState.DONE
    assert set(Panel.objects.values_list("stage", flat=True)) == {"installed"}
    return lines, sheet


@pytest.mark.long
def test_a_cafe_from_the_first_call_to_the_last_panel(begin, run_tasks, settings):
    journey = begin(CAFE)
    up_to_sending(journey)
    assert journey.open_down_to(*TO_THE_CORNERS) == "4 joints × 4.5 min × 48.00 an hour"
    paper = quote_of(journey, run_tasks, settings)
    assert paper.size_mm == (210, 297)
    assert "€" in paper.words
    for words in ("Guest room", "603 × 1203 mm", "14", "soundproof"):
        assert words in paper.words
    journey.hear_yes()
    journey.go_to_the_bench()
    stages = [stage.label for stage in STAGES[:4]]
    for was, stage in itertools.pairwise(stages):
        journey.move_all(was, stage.capitalize())
    lines, sheet = from_bench_to_wall(journey)
    assert lines > 21
    assert "not cleared" in sheet.words.lower()


@pytest.mark.long
def test_a_booth_in_feet_and_inches(begin, run_tasks, settings):
    journey = begin(
        BOOTH,
        UnitSystem.IMPERIAL,
        currency="USD",
        locale="en_US",
        time_zone="America/Chicago",
        paper="Letter",
    )
    up_to_sending(journey)
    paper = quote_of(journey, run_tasks, settings)
    assert paper.size_mm == (216, 279)
    assert "$" in paper.words
    assert " mm" not in paper.words
    assert "20 1/8" in paper.words
    journey.hear_yes()
    journey.go_to_the_bench()
    journey.move_all("planned", "Upholstered")
    lines, sheet = from_bench_to_wall(journey)
    assert lines > 9
    assert sheet.size_mm == (216, 279)
    window = Panel.objects.get(kind="reveal")
    assert (window.width_ticks, window.height_ticks) == (441 * 508, 499 * 508)
