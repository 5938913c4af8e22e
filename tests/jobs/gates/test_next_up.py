"""What next up says of jobs that wait."""

import pytest

from jobs.gates.actions import Seen, drop_gate, pass_gate
from jobs.gates.reports import waiting_jobs, words_of
from jobs.nextup.reports import MOST
from shared.outbox.actions import Letter, post
from tests.factories.catalogue import make_fabric
from tests.factories.gates import gate_of, make_waiting_job
from tests.factories.jobs import AT
from tests.pages import grows, soup, text

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]


def slips(browser):
    waiting = soup(browser.get("/")).select_one("#slips-waiting")
    return [
        slip for slip in waiting.select(".slip") if waiting and "#waits" in str(slip)
    ]


def test_one_slip_for_each_job_with_what_to_do_first(client_as, owner, maker):
    cloths = [(make_fabric(), 1), (make_fabric(), 1)]
    job = make_waiting_job(by=owner, cloths=cloths)
    for person in (owner, maker):
        (slip,) = slips(client_as(person))
        assert text(slip.a) == (
            f"{job.code} waits for the deposit, 2 signed fabrics and a second measure"
        )
        assert slip.a["href"] == f"{job.get_absolute_url()}#waits"
        assert "Ask the client for the deposit." in text(slip)
        assert "since 2 March" in text(slip)
    pass_gate(
        gate_of(job, "deposit"), Seen(reference="bank"), seen="shut", by=owner, at=AT
    )
    (slip,) = slips(client_as(owner))
    assert "Have the client sign" in text(slip)


def test_what_is_open_or_of_a_closed_job_is_left_out(owner):
    asked = {"deposit": "", "cloths": [], "by": owner}
    job, closed = make_waiting_job(**asked), make_waiting_job(**asked)
    assert len(waiting_jobs()) == 2
    drop_gate(gate_of(job, "measure"), reason="r", seen="shut", by=owner, at=AT)
    closed.state = "done"
    closed.save()
    assert waiting_jobs() == ()


@pytest.mark.parametrize(
    ("kinds", "words"),
    [
        ([], ""),
        (["fire"], "fire papers"),
        (["fire", "deposit"], "the deposit and fire papers"),
        (["fire", "fabric", "fire"], "a signed fabric and fire papers of 2 materials"),
    ],
)
def test_words(kinds, words):
    assert words_of(kinds) == words


def test_the_rest_are_counted_and_queries_do_not_grow(client_as, owner):
    page = client_as(owner)
    assert grows(page, "/", lambda: make_waiting_job(by=owner)) == 0
    for _ in range(3):
        make_waiting_job(by=owner)
    shown = soup(page.get("/")).select_one("#slips-waiting")
    assert len(slips(page)) == MOST
    assert "and 3 more" in text(shown)


def test_a_paper_that_did_not_go_out_leads_to_its_job(client_as, owner):
    job = make_waiting_job(by=owner)
    letter = Letter("m@example.org", "Please sign", "Dear M")
    message = post(letter, about=job, by=owner, at=AT)
    message.state = "failed"
    message.save()
    late = soup(client_as(owner).get("/")).select_one("#slips-late")
    assert late.select_one(f'a[href="{job.get_absolute_url()}"]')
