"""`manage.py worker`: runs tasks as they come, and enqueues what comes round."""

import logging
import time
from typing import Any

from django.core.management.base import BaseCommand, CommandParser
from django.db import OperationalError, close_old_connections
from django.utils import timezone
from django.utils.crypto import get_random_string
from django_tasks_db.management.commands.db_worker import Worker

from shared.tasks import enqueue_due, recover_abandoned

logger = logging.getLogger("cleatbook.worker")

# Seconds between two looks: at the queue; at what comes round and what was abandoned.
QUEUE_EVERY = 1.0
ROUNDS_EVERY = 30.0


class Command(BaseCommand):
    """Work until told to stop; a task that has begun is finished first."""

    help = "Runs the tasks: mail, backups, reminders. Several workers may run at once."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take a way to stop when nothing is left."""
        parser.add_argument(
            "--until-empty", action="store_true", help="Stop when nothing waits."
        )

    def handle(self, *, until_empty: bool, **options: Any) -> None:
        """Look at the queue every second, and at the clock every half minute."""
        # Its lines below that say that it looked and found nothing, once a second.
        logging.getLogger("django_tasks_db").setLevel(logging.ERROR)
        worker = _one_pass()
        if until_empty:
            worker.run()
            return
        worker.configure_signals()
        logger.info("worker started")
        looked_round = float("-inf")
        while worker.running:
            now = time.monotonic()
            try:
                if now - looked_round >= ROUNDS_EVERY:
                    _look_round()
                    looked_round = now
                worker.run()
            except OperationalError:
                # The database is locked or restarting: it will be back.
                logger.warning("the database did not answer", exc_info=True)
                close_old_connections()
            if worker.running:
                time.sleep(QUEUE_EVERY)


def _look_round() -> None:
    now = timezone.now()
    recover_abandoned(now)
    enqueue_due(now)


def _one_pass() -> Worker:
    """Return a worker whose run() does all that waits and then returns."""
    return Worker(
        queue_names=["*"],
        interval=0,
        batch=True,
        backend_name="default",
        startup_delay=False,
        max_tasks=None,
        worker_id=get_random_string(32),
        excluded_queue_names=[],
    )
