"""Backups are restored for real: rows and files as they were, and a way back from there."""

import io
import json
import tarfile
from datetime import UTC, datetime

import pytest
from django.core.management import CommandError, call_command

from shared.backups import databases
from shared.backups.archive import back_up
from shared.backups.databases import BackupError
from shop.people.models import Person
from tests.factories.people import make_person

AT = datetime(2026, 3, 2, 9, tzinfo=UTC)

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def folders(settings, tmp_path):
    """Return empty folders for files and backups."""
    settings.FILES_DIR = tmp_path / "files"
    settings.BACKUP_DIR = tmp_path / "backups"
    (settings.FILES_DIR / "ab").mkdir(parents=True)
    return settings


def make_backup(folders, **changes):
    values = {"kind": "test", "at": AT} | changes
    return back_up(files_dir=folders.FILES_DIR, backup_dir=folders.BACKUP_DIR, **values)


def repacked(archive, name, change):
    """Return a copy of an archive with one member's bytes changed."""
    other = archive.with_name("other.tar.gz")
    with tarfile.open(archive) as old, tarfile.open(other, "w:gz") as new:
        for member in old:
            data = old.extractfile(member).read()
            if member.name == name:
                data = change(data)
                member.size = len(data)
            new.addfile(member, io.BytesIO(data))
    return other


def test_a_restore_brings_back_rows_and_files_and_drops_later_ones(folders):
    make_person(username="ada")
    (folders.FILES_DIR / "ab" / "abcd").write_bytes(b"quote")
    archive = make_backup(folders)
    Person.objects.filter(username="ada").update(username="changed")
    make_person(username="later")
    (folders.FILES_DIR / "ab" / "abcd").unlink()
    (folders.FILES_DIR / "later").write_bytes(b"later")

    call_command("restore", archive, yes=True)

    assert list(Person.objects.values_list("username", flat=True)) == ["ada"]
    assert (folders.FILES_DIR / "ab" / "abcd").read_bytes() == b"quote"
    assert not (folders.FILES_DIR / "later").exists()


def test_a_restore_can_itself_be_undone(folders):
    archive = make_backup(folders)
    make_person(username="later")
    call_command("restore", archive, yes=True)
    assert not Person.objects.exists()
    (kept,) = folders.BACKUP_DIR.glob("cleatbook-before-restore-*.tar.gz")
    call_command("restore", kept, yes=True)
    assert Person.objects.get().username == "later"


def test_only_the_owner_of_the_data_may_read_a_backup(folders):
    assert make_backup(folders).stat().st_mode & 0o077 == 0
    assert folders.BACKUP_DIR.stat().st_mode & 0o077 == 0


def test_the_oldest_of_a_kind_are_dropped(folders):
    for day in (1, 2, 3):
        make_backup(folders, kind="daily", at=AT.replace(day=day), keep=2)
    other = make_backup(folders, kind="by-hand", at=AT.replace(day=1))
    names = {path.name for path in folders.BACKUP_DIR.iterdir()}
    assert names == {
        "cleatbook-daily-20260302T090000Z.tar.gz",
        "cleatbook-daily-20260303T090000Z.tar.gz",
        other.name,
    }


def test_two_backups_within_a_second_are_two_files(folders):
    assert make_backup(folders) != make_backup(folders)


def test_a_backup_of_a_newer_program_is_refused_and_nothing_changes(folders):
    make_person(username="ada")

    def newer(data):
        manifest = json.loads(data)
        manifest["migrations"].append("shop.9999_later")
        return json.dumps(manifest).encode()

    archive = repacked(make_backup(folders), "manifest.json", newer)
    with pytest.raises(CommandError, match=r"newer Cleatbook.*shop\.9999_later"):
        call_command("restore", archive, yes=True)
    assert Person.objects.get().username == "ada"


@pytest.mark.parametrize("cut", [0, 100])
def test_a_torn_archive_is_refused(folders, cut):
    archive = make_backup(folders)
    torn = archive.with_name("torn.tar.gz")
    torn.write_bytes(archive.read_bytes()[:cut])
    with pytest.raises(CommandError, match=r"torn\.tar\.gz cannot be read"):
        call_command("restore", torn, yes=True)


def test_an_altered_database_is_refused(folders):
    archive = make_backup(folders)
    name = databases.file_name()
    altered = repacked(archive, name, lambda data: data[:-1] + b"!")
    with pytest.raises(CommandError, match="checksum"):
        call_command("restore", altered, yes=True)


def test_an_archive_cannot_write_outside_its_folder(folders, tmp_path):
    archive = tmp_path / "odd.tar.gz"
    with tarfile.open(archive, "w:gz") as tar:
        tar.addfile(tarfile.TarInfo("../outside"), io.BytesIO(b""))
    with pytest.raises(CommandError, match="something odd"):
        call_command("restore", archive, yes=True)
    assert not (tmp_path.parent / "outside").exists()


def test_nothing_is_restored_without_a_yes(folders, monkeypatch):
    archive = make_backup(folders)
    make_person(username="later")
    monkeypatch.setattr("builtins.input", lambda _: "no")
    with pytest.raises(CommandError, match="Nothing was changed"):
        call_command("restore", archive)
    assert Person.objects.count() == 1


def test_a_damaged_database_is_not_taken_for_a_backup(tmp_path):
    (tmp_path / "bad").write_bytes(b"SQLite format 3\0" + b"\0" * 5000)
    with pytest.raises(BackupError, match="damaged"):
        databases.check_sqlite(tmp_path / "bad")


class TestMigrate:
    """A database in use is backed up before it changes, and only then."""

    @pytest.fixture
    def behind(self):
        """Take the last step back, then let the test go forward again."""
        call_command("migrate", "sessions", "zero", no_backup=True, verbosity=0)
        yield
        call_command("migrate", no_backup=True, verbosity=0)

    def test_a_pending_migration_is_preceded_by_a_backup(self, folders, behind):
        call_command("migrate", verbosity=0)
        (archive,) = folders.BACKUP_DIR.iterdir()
        with tarfile.open(archive) as tar:
            manifest = json.loads(tar.extractfile("manifest.json").read())
        assert "sessions.0001_initial" not in manifest["migrations"]
        assert "shop.0001_initial" in manifest["migrations"]

    def test_nothing_pending_makes_no_backup(self, folders):
        call_command("migrate", verbosity=0)
        assert not folders.BACKUP_DIR.exists()

    def test_looking_at_the_plan_makes_no_backup(self, folders, behind):
        call_command("migrate", plan=True, verbosity=0)
        assert not folders.BACKUP_DIR.exists()

    def test_no_backup_means_no_migration(self, folders, behind):
        folders.BACKUP_DIR.write_text("a file where the folder should be")
        with pytest.raises((CommandError, OSError)):
            call_command("migrate", verbosity=0)
        assert "sessions.0001_initial" not in databases.applied_migrations()
