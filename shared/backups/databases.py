"""Copies of the whole database in one file, taken while the shop works on."""

import os
import re
import shutil
import sqlite3
import subprocess
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from django.db import connection
from django.db.migrations.recorder import MigrationRecorder


class BackupError(Exception):
    """A backup or a restore that cannot be done; the message says what to do."""


def file_name() -> str:
    """Return what the database's copy is called inside an archive."""
    return "database.sqlite3" if connection.vendor == "sqlite" else "database.pgdump"


def dump(target: Path) -> None:
    """Write a consistent copy of the database, and read it back to see that it is whole."""
    if connection.vendor == "sqlite":
        _dump_sqlite(target)
    else:
        _run_postgres("pg_dump", "--format=custom", "--file", str(target))
        _run_postgres("pg_restore", "--list", str(target), connected=False)


def load(source: Path) -> None:
    """Put the copy in the place of everything in the database."""
    connection.close()
    if connection.vendor == "sqlite":
        _load_sqlite(source)
    else:
        _run_postgres(
            "pg_restore",
            "--clean",
            "--if-exists",
            "--no-owner",
            "--single-transaction",
            str(source),
        )


def applied_migrations() -> list[str]:
    """Return the migrations in the database, each as app.name (one query)."""
    applied = MigrationRecorder(connection).applied_migrations()
    return sorted(f"{app}.{name}" for app, name in applied)


def _dump_sqlite(target: Path) -> None:
    with _sqlite_as_it_lies() as live, closing(sqlite3.connect(target)) as copy:
        live.backup(copy)
        # One plain file, with no log beside it.
        copy.execute("PRAGMA journal_mode=DELETE")
    check_sqlite(target)


def _load_sqlite(source: Path) -> None:
    check_sqlite(source)
    with closing(sqlite3.connect(source)) as copy, _sqlite_as_it_lies() as live:
        copy.backup(live)
        live.execute("PRAGMA journal_mode=WAL")


@contextmanager
def _sqlite_as_it_lies() -> Iterator[sqlite3.Connection]:
    """Yield a connection of our own, since Django's may be in the midst of something."""
    path = str(connection.settings_dict["NAME"])
    with closing(sqlite3.connect(path, timeout=60)) as live:
        yield live


def check_sqlite(path: Path) -> None:
    """Read every page and every constraint of a copy."""
    with closing(sqlite3.connect(path)) as copy:
        # Django writes regular expressions into CHECK constraints and brings the function.
        copy.create_function("REGEXP", 2, _regexp, deterministic=True)
        try:
            answers = copy.execute("PRAGMA integrity_check").fetchall()
        except sqlite3.DatabaseError as error:
            raise BackupError(
                f"The copy of the database is damaged: {error}."
            ) from None
    if answers != [("ok",)]:
        raise BackupError(f"The copy of the database is damaged: {answers[0][0]}.")


def _regexp(pattern: str, value: object) -> bool | None:
    return None if value is None else bool(re.search(pattern, str(value)))


def _run_postgres(program: str, *arguments: str, connected: bool = True) -> None:
    path = shutil.which(program)
    if path is None:
        raise BackupError(
            f"{program} is not installed; type: sudo apt-get install postgresql-client"
        )
    settings = connection.settings_dict
    environment = dict(os.environ)
    if connected:
        # pg_dump and pg_restore name the database alike; the rest goes by environment, so
        # that no password shows in the list of processes.
        arguments = ("--dbname", str(settings["NAME"]), *arguments)
        for key in ("HOST", "PORT", "USER", "PASSWORD"):
            if settings.get(key):
                environment[f"PG{key}"] = str(settings[key])
    # Both the program and its arguments are ours: no shell, nothing that a visitor typed.
    done = subprocess.run(  # noqa: S603
        [path, *arguments], env=environment, capture_output=True, text=True, check=False
    )
    if done.returncode:
        raise BackupError(f"{program} failed: {done.stderr.strip()}")
