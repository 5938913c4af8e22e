"""The worker's side of cut plans."""

from __future__ import annotations

import uuid

from django.utils import timezone

from jobs.cutting.solving import solve
from shared.conventions import from_provider, using
from shared.tasks import task


@task()
def make_plan(plan_id: str) -> None:
    """Make a cut plan that was asked for; harmless when it was made already."""
    with using(from_provider()):
        solve(uuid.UUID(plan_id), now=timezone.now)
