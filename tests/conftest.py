"""What every test may ask for."""

import os
import shutil

import pytest
from django.core.management import call_command
from hypothesis import settings as hypothesis_settings

pytest_plugins = ["tests.cast", "tests.demo", "tests.devices"]

# No deadline: several tests at a time on a busy machine are slow now and then. The same
# examples each time in CI, so that what fails there fails again.
hypothesis_settings.register_profile("local", deadline=None)
hypothesis_settings.register_profile("ci", deadline=None, derandomize=True)
hypothesis_settings.load_profile("ci" if os.environ.get("CI") else "local")


def pytest_unconfigure(config):
    if not hasattr(config, "workerinput"):
        shutil.rmtree(os.environ.get("CLEATBOOK_TEST_DATA", ""), ignore_errors=True)


@pytest.fixture
def run_tasks(monkeypatch):
    """Return a function that lets the worker do all that waits."""
    # It closes connections between tasks, which would end the transaction that a test runs
    # in; Django's own test client leaves that out for the same reason.
    worker = "django_tasks_db.management.commands.db_worker"
    monkeypatch.setattr(f"{worker}.close_old_connections", lambda: None)

    def run():
        call_command("worker", until_empty=True)

    return run
