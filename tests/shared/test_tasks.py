"""Tasks run in the worker, once, and survive a worker that dies."""

import tarfile
from datetime import UTC, datetime, timedelta

import pytest
from django.contrib.sessions.models import Session
from django.db import transaction
from django_tasks import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from shared import tasks
from shared.tasks import LEASE, MOST_TRIES, enqueue_due, recover_abandoned, task

NOW = datetime(2026, 3, 2, 9, tzinfo=UTC)
HEARD: list[str] = []

pytestmark = pytest.mark.django_db


@task()
def hear(word: str) -> str:
    HEARD.append(word)
    return word.upper()


@task()
def fail() -> None:
    raise ValueError("no")


def started(*, at, tries=1, what=hear, args=("x",)):
    result = what.enqueue(*args)
    row = DBTaskResult.objects.get(pk=result.id)
    row.status = TaskResultStatus.RUNNING
    row.started_at = at
    row.worker_ids = ["w"] * tries
    row.save()
    return row


def test_a_task_runs_in_the_worker_and_not_before(run_tasks):
    HEARD.clear()
    result = hear.enqueue("café")
    assert HEARD == []
    run_tasks()
    assert HEARD == ["café"]
    result = hear.get_result(result.id)
    assert (result.status, result.return_value) == (TaskResultStatus.SUCCESSFUL, "CAFÉ")


@pytest.mark.django_db(transaction=True)
def test_the_worker_claims_tasks_outside_any_transaction_of_the_test(run_tasks):
    HEARD.clear()
    hear.enqueue("a")
    hear.enqueue("b")
    run_tasks()
    run_tasks()
    assert sorted(HEARD) == ["a", "b"]


def test_a_task_rolled_back_with_its_transaction_never_runs(run_tasks):
    HEARD.clear()
    with transaction.atomic():
        hear.enqueue("lost")
        transaction.set_rollback(True)
    run_tasks()
    assert HEARD == []


def test_a_failing_task_is_kept_with_its_reason_and_stops_nobody(run_tasks):
    HEARD.clear()
    failed = fail.enqueue()
    hear.enqueue("after")
    run_tasks()
    assert HEARD == ["after"]
    row = DBTaskResult.objects.get(pk=failed.id)
    assert row.status == TaskResultStatus.FAILED
    assert row.exception_class_path == "builtins.ValueError"


def test_what_a_dead_worker_held_is_tried_again(run_tasks):
    HEARD.clear()
    row = started(at=NOW - LEASE - timedelta(seconds=1))
    assert recover_abandoned(NOW) == 1
    run_tasks()
    row.refresh_from_db()
    assert (HEARD, row.status) == (["x"], TaskResultStatus.SUCCESSFUL)


def test_what_a_worker_may_still_be_doing_is_left_alone():
    started(at=NOW - LEASE)
    assert recover_abandoned(NOW) == 0


def test_what_killed_three_workers_is_given_up():
    row = started(at=NOW - timedelta(days=1), tries=MOST_TRIES)
    assert recover_abandoned(NOW) == 1
    row.refresh_from_db()
    assert (row.status, row.finished_at) == (TaskResultStatus.FAILED, NOW)


def test_what_comes_round_is_enqueued_when_it_has_rested(monkeypatch):
    monkeypatch.setattr(tasks, "_rounds", {})
    tasks.come_round(fail, every=timedelta(hours=1))
    soon = datetime.now(UTC) + timedelta(minutes=59)
    assert [enqueue_due(at) for at in (soon, soon, soon + timedelta(hours=1))] == [
        1,
        0,
        1,
    ]


def test_the_daily_backup_can_be_opened(run_tasks, settings, tmp_path):
    settings.BACKUP_DIR = tmp_path
    tasks.back_up_daily.enqueue()
    run_tasks()
    (archive,) = tmp_path.glob("cleatbook-daily-*.tar.gz")
    with tarfile.open(archive) as tar:
        assert "manifest.json" in tar.getnames()


def test_old_sessions_are_forgotten(run_tasks):
    Session.objects.create(session_key="old", session_data="", expire_date=NOW)
    tasks.forget_finished.enqueue()
    # The clock of the machine is past that date or not: say which.
    assert datetime.now(UTC) > NOW
    run_tasks()
    assert not Session.objects.filter(session_key="old").exists()
