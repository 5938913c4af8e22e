"""What happened to a panel, told in lines, newest first."""

import datetime as dt

import pytest
from django.urls import reverse

from jobs.board.actions import (
    mark_panels,
    move_panels,
    open_job,
    undo_marks,
    undo_moves,
)
from jobs.board.models import Mark, Stage
from jobs.board.sections import job_of_quote
from jobs.board.snapshot import UnknownSnapshotError
from jobs.board.stories import story
from tests.factories.clients import make_client
from tests.factories.jobs import AT, make_job, make_revision, tiny_snapshot

pytestmark = pytest.mark.django_db
HOUR = dt.timedelta(hours=1)


@pytest.fixture
def panel(owner):
    return make_job(by=owner).panels.first()


def told(panel):
    return [(line.text, line.who, line.note) for line in story(panel)]


def test_moves_and_marks_are_told_together(panel, maker):
    move_panels([(panel.pk, "planned")], to=Stage.BUILT, by=maker, at=AT)
    mark_panels([panel.pk], mark=Mark.CUT, now="yes", by=maker, at=AT + HOUR)
    mark_panels([panel.pk], mark=Mark.WAITING, now="glue", by=maker, at=AT + 2 * HOUR)
    assert told(panel) == [
        ("waiting for: glue", "Mina", ""),
        ("cut", "Mina", ""),
        ("planned → built", "Mina", ""),
    ]


def test_what_was_taken_back_says_so(panel, maker):
    moved = move_panels([(panel.pk, "planned")], to=Stage.BUILT, by=maker, at=AT)
    undo_moves(moved.batch, by=maker, at=AT + HOUR)
    batch = mark_panels([panel.pk], mark=Mark.CUT, now="yes", by=maker, at=AT + HOUR)
    undo_marks(batch, by=maker, at=AT + 2 * HOUR)
    assert told(panel)[0] == ("cut: taken off", "Mina", "")
    assert ("built → planned", "Mina", "taken back") in told(panel)


def test_marks_that_changed_since_are_not_taken_back(panel, maker, client_as, shop):
    first = mark_panels([panel.pk], mark=Mark.WAITING, now="glue", by=maker, at=AT)
    mark_panels([panel.pk], mark=Mark.WAITING, now="cloth", by=maker, at=AT + HOUR)
    address = reverse("jobs:undo-marks", args=(first,))
    page = client_as(maker).post(address, follow=True)
    assert "the marks changed since" in page.content.decode()


def test_an_unknown_mark_or_stage_by_page_changes_nothing(
    panel, maker, client_as, shop
):
    typed = {"panel": [f"{panel.pk}:planned"], "mark": "gilded"}
    assert client_as(maker).post(reverse("jobs:mark"), typed).status_code == 422


def test_a_snapshot_from_a_later_version_opens_no_job(owner):
    later = tiny_snapshot(client_id=make_client().pk) | {"schema": 99}
    revision = make_revision(by=owner, snapshot=later)
    with pytest.raises(UnknownSnapshotError):
        open_job(revision, owner, AT)


def test_a_quote_leads_to_its_job_and_to_no_other(owner, rf):
    job = make_job(by=owner)
    request = rf.get("/")
    assert job_of_quote(request, job.revision.quote).context["job"] == job
    assert job_of_quote(request, make_revision(by=owner).quote) is None
