"""What the bench reads, when others work at the same time."""

import pytest

from jobs.board.models.jobs import JobQuerySet
from jobs.board.reports import BenchFilter, bench
from tests.factories.jobs import make_job

pytestmark = pytest.mark.django_db


def test_a_job_finished_while_the_bench_is_read_is_left_out(owner, shop, monkeypatch):
    make_job(by=owner)
    assert bench(BenchFilter()).boards
    monkeypatch.setattr(JobQuerySet, "with_client", lambda self: self.none())
    found = bench(BenchFilter())
    assert (found.boards, found.any_jobs) == ((), False)
