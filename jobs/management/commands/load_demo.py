"""Load the invented shop, and say how to sign in to it."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from jobs.demo.loading import hand_over_mail, load
from jobs.demo.people import sign_ins
from shop.people.models import Person, ShopProfile


class Command(BaseCommand):
    """Fill an empty installation with an invented shop at work."""

    help = "Load the invented shop into an empty installation; print its sign-ins."

    def add_arguments(self, parser: CommandParser) -> None:
        """Let `make run` ask without knowing."""
        parser.add_argument(
            "--if-new",
            action="store_true",
            help="Do nothing, and fail not, when there is a shop already.",
        )

    def handle(self, *args: Any, if_new: bool, **options: Any) -> None:
        """Load it once; never beside real data."""
        shop = ShopProfile.objects.first()
        if shop is None and not Person.objects.exists():
            self._load()
        elif not if_new:
            raise CommandError("There is a shop already: the demo needs an empty one.")
        elif shop is None or not shop.invented:
            return
        self._say()

    def _load(self) -> None:
        if settings.PRODUCTION:
            raise CommandError(
                "The demo's passwords are known to everybody: it is not for production."
            )
        self.stdout.write("Loading the invented shop …")
        load(timezone.now())
        hand_over_mail()

    def _say(self) -> None:
        self.stdout.write("\nThe shop is invented. Sign in as one of these:\n\n")
        for line in sign_ins():
            self.stdout.write(f"    {line}")
        self.stdout.write("")
