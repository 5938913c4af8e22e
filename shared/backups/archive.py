"""One archive with all that a shop has to keep: its database and its files."""

import hashlib
import json
import os
import shutil
import tarfile
import tempfile
from datetime import datetime
from pathlib import Path, PurePosixPath
from typing import Any

from django.db.migrations.loader import MigrationLoader

from shared.backups import databases
from shared.backups.databases import BackupError

FORMAT = 1
MANIFEST = "manifest.json"
FILES = "files"


def back_up(
    *, kind: str, at: datetime, files_dir: Path, backup_dir: Path, keep: int = 0
) -> Path:
    """Write an archive and return where it lies; keep > 0 drops older ones of its kind.

    The database is copied before the files: a file is stored before the row that names it
    and is never changed, so every row in the copy finds its file.
    """
    backup_dir.mkdir(mode=0o700, parents=True, exist_ok=True)
    name = f"cleatbook-{kind}-{at:%Y%m%dT%H%M%SZ}.tar.gz"
    with tempfile.TemporaryDirectory(dir=backup_dir) as scratch:
        draft = Path(scratch) / name
        _write(draft, scratch=Path(scratch), at=at, files_dir=files_dir)
        final = _put_beside(draft, backup_dir / name)
    if keep:
        for old in sorted(backup_dir.glob(f"cleatbook-{kind}-*.tar.gz"))[:-keep]:
            old.unlink()
    return final


def restore(archive: Path, *, files_dir: Path) -> dict[str, Any]:
    """Put an archive's database and files in the place of those here; return its manifest."""
    files_dir.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=files_dir.parent) as scratch:
        folder = Path(scratch)
        unpack(archive, folder)
        manifest = read_manifest(folder)
        databases.load(folder / databases.file_name())
        _swap(folder / FILES, files_dir, aside=folder / "old")
    return manifest


def read_manifest(folder: Path) -> dict[str, Any]:
    """Return what an unpacked archive says of itself, or say why it won't do."""
    try:
        manifest: dict[str, Any] = json.loads((folder / MANIFEST).read_text())
    except (OSError, ValueError):
        raise BackupError("This is not a Cleatbook backup.") from None
    if manifest.get("format") != FORMAT:
        raise BackupError(
            "A newer Cleatbook made this backup; restore it with that one."
        )
    name = databases.file_name()
    if name not in manifest["sha256"]:
        raise BackupError("This backup was made on the other kind of database.")
    if _sha256(folder / name) != manifest["sha256"][name]:
        raise BackupError("The backup's database does not match its checksum.")
    unknown = set(manifest["migrations"]) - _known_migrations()
    if unknown:
        raise BackupError(
            f"A newer Cleatbook made this backup (it knows {min(unknown)}); "
            "restore it with that one."
        )
    return manifest


def unpack(archive: Path, folder: Path) -> None:
    """Unpack plain files only, and none outside the folder."""
    try:
        with tarfile.open(archive, "r:gz") as tar:
            for member in tar:
                path = PurePosixPath(member.name)
                source = tar.extractfile(member)
                if source is None or path.is_absolute() or ".." in path.parts:
                    raise BackupError(f"The backup holds something odd: {member.name}.")
                target = folder / path
                target.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
                with source, _private(target).open("wb") as file:
                    shutil.copyfileobj(source, file)
    except (OSError, EOFError, tarfile.TarError) as error:
        raise BackupError(f"{archive.name} cannot be read: {error}.") from None


def _write(draft: Path, *, scratch: Path, at: datetime, files_dir: Path) -> None:
    database = _private(scratch / databases.file_name())
    databases.dump(database)
    manifest = _private(scratch / MANIFEST)
    manifest.write_text(
        json.dumps(
            {
                "format": FORMAT,
                "made_at": at.isoformat(),
                "migrations": databases.applied_migrations(),
                "sha256": {database.name: _sha256(database)},
            },
            indent=1,
        )
    )
    with tarfile.open(_private(draft), "w:gz", compresslevel=6) as tar:
        tar.add(manifest, MANIFEST)
        tar.add(database, database.name)
        for path in sorted(p for p in files_dir.rglob("*") if p.is_file()):
            tar.add(path, f"{FILES}/{path.relative_to(files_dir).as_posix()}")
    with draft.open("rb") as written:
        os.fsync(written.fileno())


def _put_beside(draft: Path, final: Path) -> Path:
    """Move into place; a second backup within one second gets a name of its own."""
    number = 1
    base = final.name.removesuffix(".tar.gz")
    while final.exists():
        number += 1
        final = final.with_name(f"{base}-{number}.tar.gz")
    draft.rename(final)
    return final


def _swap(new: Path, live: Path, *, aside: Path) -> None:
    new.mkdir(mode=0o700, exist_ok=True)
    if live.exists():
        live.rename(aside)
    new.rename(live)


def _known_migrations() -> set[str]:
    loader = MigrationLoader(None)
    replaced = {key for m in loader.disk_migrations.values() for key in m.replaces}
    return {f"{app}.{name}" for app, name in {*loader.disk_migrations, *replaced}}


def _sha256(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _private(path: Path) -> Path:
    """Make an empty file that only its owner may read."""
    path.touch(mode=0o600)
    return path
