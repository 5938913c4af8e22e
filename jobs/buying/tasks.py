"""What comes round by itself: needs worked out anew."""

from __future__ import annotations

from django.utils import timezone

from jobs.buying.actions.needs import refresh_needs
from shared.conventions import from_provider, using
from shared.tasks import task


@task()
def refresh() -> None:
    """Work out what open jobs need: yields, rules and the stores may have changed."""
    with using(from_provider()):
        refresh_needs(at=timezone.now())
