"""The worker's side of quotes."""

from __future__ import annotations

from django.utils import timezone

from quotes.offers import actions
from shared.conventions import from_provider, using
from shared.tasks import task


@task()
def lapse_due() -> None:
    """Let quotes lapse whose last local day is over."""
    with using(from_provider()):
        actions.lapse_quotes(at=timezone.now())
