"""The worker's jobs: everything slow, and everything that comes round by itself.

A task is a module-level function under `@task()`, given only what JSON can hold (ids, no
personal data). Enqueue it once what it needs is committed:

    transaction.on_commit(partial(send_message.enqueue, str(message.pk)))

A worker that dies leaves its task to be tried again, and two workers may both enqueue what
comes round, so every task has to be harmless when it runs twice.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.utils import timezone
from django_tasks import TaskResultStatus, task
from django_tasks.base import Task
from django_tasks_db.models import DBTaskResult

from shared.backups.archive import back_up

__all__ = ["come_round", "enqueue_due", "recover_abandoned", "task"]

DAILY_BACKUPS_KEPT = 14
# Longer than any task of ours takes; a worker that holds one for longer has died.
LEASE = timedelta(minutes=15)
MOST_TRIES = 3


@dataclass(frozen=True, slots=True)
class Round:
    """A task without arguments that comes round every so often."""

    task: Task[[], Any]
    every: timedelta


_rounds: dict[str, Round] = {}


def come_round(what: Task[[], Any], *, every: timedelta) -> None:
    """Let the worker enqueue a task again and again; called in an app's apps.py."""
    _rounds[what.module_path] = Round(what, every)


def enqueue_due(at: datetime) -> int:
    """Enqueue what has not been enqueued for as long as it may rest (a query for each)."""
    due = [
        entry.task
        for path, entry in _rounds.items()
        if not DBTaskResult.objects.filter(
            task_path=path, enqueued_at__gt=at - entry.every
        ).exists()
    ]
    for what in due:
        what.enqueue()
    return len(due)


def recover_abandoned(at: datetime) -> int:
    """Put back what a dead worker had begun; give up on what has killed three of them."""
    held = DBTaskResult.objects.running().filter(started_at__lt=at - LEASE)
    count = 0
    for result in held:
        tried = len(result.worker_ids)
        status = (
            TaskResultStatus.READY if tried < MOST_TRIES else TaskResultStatus.FAILED
        )
        # Only if nobody was quicker, and its worker has not finished it after all.
        count += (
            DBTaskResult.objects.running()
            .filter(pk=result.pk, started_at=result.started_at)
            .update(status=status, finished_at=at if tried >= MOST_TRIES else None)
        )
    return count


@task()
def back_up_daily() -> None:
    """Keep the last fortnight, a backup a day."""
    back_up(
        kind="daily",
        at=timezone.now(),
        files_dir=settings.FILES_DIR,
        backup_dir=settings.BACKUP_DIR,
        keep=DAILY_BACKUPS_KEPT,
    )


@task()
def forget_finished() -> None:
    """Drop finished tasks after two days, failed ones after a quarter, and old sessions."""
    call_command(
        "prune_db_task_results", min_age_days=2, failed_min_age_days=90, verbosity=0
    )
    call_command("clearsessions")
