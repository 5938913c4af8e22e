"""Django's migrate, which here makes a backup before it changes a database in use."""

from typing import Any

from django.conf import settings
from django.core.management.base import CommandError, CommandParser
from django.core.management.commands import migrate
from django.db import connections
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.recorder import MigrationRecorder
from django.utils import timezone

from shared.backups.archive import back_up
from shared.backups.databases import BackupError


class Command(migrate.Command):
    """Back up, then migrate."""

    def add_arguments(self, parser: CommandParser) -> None:
        """Take Django's arguments and two more."""
        super().add_arguments(parser)
        parser.add_argument(
            "--if-needed", action="store_true", help="Do nothing when up to date."
        )
        parser.add_argument(
            "--no-backup", action="store_true", help="You have made one yourself."
        )

    def handle(self, *args: Any, **options: Any) -> None:
        """Back up a database that has something in it and is about to change."""
        if_needed = options.pop("if_needed", False)
        no_backup = options.pop("no_backup", False)
        alias = options["database"]
        pending = _pending(alias)
        if if_needed and not pending:
            return
        only_looks = options["plan"] or options["check_unapplied"]
        if (
            _in_use(alias)
            and not (only_looks or no_backup)
            and self._changes(options, pending)
        ):
            self._back_up()
        super().handle(*args, **options)

    @staticmethod
    def _changes(options: dict[str, Any], pending: bool) -> bool:  # noqa: FBT001
        # Naming a migration may undo one, which the plan of pending ones does not show.
        return pending or bool(options.get("migration_name"))

    def _back_up(self) -> None:
        try:
            path = back_up(
                kind="before-migration",
                at=timezone.now(),
                files_dir=settings.FILES_DIR,
                backup_dir=settings.BACKUP_DIR,
            )
        except BackupError as error:
            raise CommandError(
                f"No backup could be made, so nothing was migrated. {error}"
            ) from error
        self.stdout.write(f"Backed up to {path}")


def _pending(alias: str) -> bool:
    executor = MigrationExecutor(connections[alias])
    return bool(executor.migration_plan(executor.loader.graph.leaf_nodes()))


def _in_use(alias: str) -> bool:
    return bool(MigrationRecorder(connections[alias]).applied_migrations())
