"""What the worker does for the stores."""

from __future__ import annotations

from django.utils import timezone

from shared.tasks import task
from shop.catalogue.actions import install_finishes


@task()
def bring_finishes() -> None:
    """Add what is missing of the finishes that come with the program."""
    install_finishes(at=timezone.now())
