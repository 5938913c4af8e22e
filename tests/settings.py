"""The project's settings, made quick and kept away from anybody's data."""

import os
import tempfile
from pathlib import Path

DATA = Path(
    os.environ.setdefault("CLEATBOOK_TEST_DATA", tempfile.mkdtemp(prefix="cleatbook-"))
)
os.environ["CLEATBOOK_DATA"] = str(DATA)
os.environ.setdefault("CLEATBOOK_LOG_LEVEL", "WARNING")

from shop.settings import *  # noqa: E402, F403
from shop.settings import DATABASES  # noqa: E402

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"

if DATABASES["default"]["ENGINE"] == "django.db.backends.sqlite3":
    # The live server's threads share a database only through a file, and a test that is
    # cut off by a power failure is simply run again.
    DATABASES["default"]["TEST"] = {"NAME": str(DATA / "test.sqlite3")}
    DATABASES["default"]["OPTIONS"]["init_command"] = (
        "PRAGMA journal_mode=WAL;PRAGMA synchronous=OFF;PRAGMA foreign_keys=ON;"
    )
