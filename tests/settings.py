"""The project's settings, made quick and kept away from anybody's data."""

import os
import tempfile
from pathlib import Path

# One folder for the whole run, made by whichever process comes first, and inside it one
# for each process that runs tests beside others. tests/conftest.py clears it away.
RUN_DATA = os.environ.get("CLEATBOOK_TEST_DATA") or tempfile.mkdtemp(
    prefix="cleatbook-"
)
os.environ["CLEATBOOK_TEST_DATA"] = RUN_DATA
os.environ["CLEATBOOK_DATA"] = str(
    Path(RUN_DATA) / os.environ.get("PYTEST_XDIST_WORKER", "main")
)
for name in [name for name in os.environ if name.startswith("CLEATBOOK_")]:
    if name not in {"CLEATBOOK_TEST_DATA", "CLEATBOOK_DATA"}:
        del os.environ[name]
os.environ["CLEATBOOK_LOG_LEVEL"] = "WARNING"

from shop.settings import *  # noqa: E402, F403
from shop.settings import DATA_DIR, DATABASES  # noqa: E402

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]

if DATABASES["default"]["ENGINE"] == "django.db.backends.sqlite3":
    # The live server's threads share a database only through a file. Without fsync, since
    # a test that a power failure cuts off is simply run again.
    DATABASES["default"]["TEST"] = {"NAME": str(DATA_DIR / "test.sqlite3")}
    DATABASES["default"]["OPTIONS"]["init_command"] = (
        "PRAGMA journal_mode=WAL;PRAGMA synchronous=OFF;PRAGMA foreign_keys=ON;"
    )
