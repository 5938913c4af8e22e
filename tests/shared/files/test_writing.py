"""Bytes stand under their hash whole, or not at all."""

import os
from pathlib import Path

import pytest
from django.core.files.storage import FileSystemStorage

from shared.files.actions import write_bytes

PAPER = b"%PDF-1.7 a sent quote"


@pytest.fixture
def place(tmp_path, monkeypatch):
    storage = FileSystemStorage(location=tmp_path)
    monkeypatch.setattr("shared.files.actions.private_storage", lambda: storage)
    return tmp_path


def files(place):
    return [path for path in place.rglob("*") if path.is_file()]


def test_bytes_are_written_once_under_their_hash_and_nothing_is_left_beside(place):
    path, digest = write_bytes(PAPER)
    assert path == f"{digest[:2]}/{digest}"
    assert write_bytes(PAPER) == (path, digest)
    assert files(place) == [place / path]
    assert (place / path).read_bytes() == PAPER
    assert (place / path).stat().st_mode & 0o077 == 0


def test_a_torn_file_is_written_anew(place):
    path, _ = write_bytes(PAPER)
    (place / path).write_bytes(PAPER[:5])
    assert write_bytes(PAPER)[0] == path
    assert (place / path).read_bytes() == PAPER
    assert files(place) == [place / path]


def test_what_breaks_off_leaves_nothing_under_the_hash(place, monkeypatch):
    def full_disk(number):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as broken:
        broken.setattr(os, "fsync", full_disk)
        with pytest.raises(OSError, match="No space"):
            write_bytes(PAPER)
    assert all(path.name.count(".part") for path in files(place))
    path, _ = write_bytes(PAPER)
    assert (place / path).read_bytes() == PAPER


def test_the_disk_has_the_bytes_before_the_name_and_then_the_name(place, monkeypatch):
    done, flush, rename = [], os.fsync, Path.replace

    def fsync(number):
        done.append(Path(f"/proc/self/fd/{number}").readlink())
        flush(number)

    def replace(self, target):
        done.append("renamed")
        return rename(self, target)

    monkeypatch.setattr(os, "fsync", fsync)
    monkeypatch.setattr(Path, "replace", replace)
    path, _ = write_bytes(PAPER)
    assert done[0] == (place / f"{path}.part")
    assert done[1:] == ["renamed", (place / path).parent, place]
