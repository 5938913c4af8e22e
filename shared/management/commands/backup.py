"""`manage.py backup`: one archive of database and files, while the shop works on."""

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from shared.backups.archive import back_up
from shared.backups.databases import BackupError


class Command(BaseCommand):
    """Make a backup and print where it lies."""

    help = "Copies database and files into one archive in the backup folder."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the kind, which becomes part of the name."""
        parser.add_argument("--kind", default="by-hand", help="A word for its name.")
        parser.add_argument(
            "--keep", type=int, default=0, help="Drop all but so many of this kind."
        )

    def handle(self, *, kind: str, keep: int, **options: Any) -> None:
        """Make the backup."""
        try:
            path = back_up(
                kind=kind,
                at=timezone.now(),
                files_dir=settings.FILES_DIR,
                backup_dir=settings.BACKUP_DIR,
                keep=keep,
            )
        except BackupError as error:
            raise CommandError(str(error)) from error
        self.stdout.write(f"Backed up to {path}")
