"""`manage.py restore ARCHIVE`: back to how it was, with a way back from there."""

from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from shared.backups.archive import back_up, restore
from shared.backups.databases import BackupError, applied_migrations


class Command(BaseCommand):
    """Replace database and files by those of an archive."""

    help = "Puts a backup in the place of the present database and files."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the archive, and a yes in advance."""
        parser.add_argument("archive", type=Path)
        parser.add_argument("--yes", action="store_true", help="Do not ask first.")

    def handle(self, *, archive: Path, yes: bool, **options: Any) -> None:
        """Ask, keep what is there now, restore, and bring the tables up to date."""
        if not archive.is_file():
            raise CommandError(f"There is no file {archive}.")
        if not yes:
            self._ask(archive)
        try:
            if applied_migrations():
                self._keep_present()
            manifest = restore(archive, files_dir=settings.FILES_DIR)
        except BackupError as error:
            raise CommandError(str(error)) from error
        call_command("migrate", "--if-needed", "--no-input", stdout=self.stdout)
        self.stdout.write(
            f"Restored what was kept on {manifest['made_at']}. "
            "Start server and worker again."
        )

    def _ask(self, archive: Path) -> None:
        self.stdout.write(
            f"This replaces everything in Cleatbook by {archive.name}. "
            "Stop server and worker first."
        )
        try:
            answer = input("Type yes to go on: ")
        except EOFError:
            answer = ""
        if answer.strip().lower() != "yes":
            raise CommandError("Nothing was changed.")

    def _keep_present(self) -> None:
        path = back_up(
            kind="before-restore",
            at=timezone.now(),
            files_dir=settings.FILES_DIR,
            backup_dir=settings.BACKUP_DIR,
        )
        self.stdout.write(f"What was here before is kept in {path}")
