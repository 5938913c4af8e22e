"""The worker's side of the outbox."""

from __future__ import annotations

import uuid

from django.utils import timezone

from shared.outbox import actions
from shared.tasks import task


@task()
def send_message(message_id: str) -> None:
    """Send one message now."""
    actions.deliver(uuid.UUID(message_id), at=timezone.now())


@task()
def send_due() -> None:
    """Send what waits, and look after what a dead worker held."""
    now = timezone.now()
    actions.release_held(at=now)
    actions.deliver_due(at=now)
