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


DATABASE = {"db", "transactional_db", "demo"}
"""Fixtures of which any test that meets the database asks for one."""


def pytest_collection_modifyitems(items):
    for item in items:
        asks = DATABASE & set(getattr(item, "fixturenames", ()))
        if asks or item.get_closest_marker("django_db"):
            item.add_marker("database")


class LongFirst:
    """Begins with what takes longest: each process with some of it, module by module.

    The processes are dealt the tests in equal runs, and then take from each other's ends.
    """

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, config, items):
        processes = getattr(config, "workerinput", {}).get("workercount", 1)
        long = [item for item in items if item.get_closest_marker("long")]
        rest = [item for item in items if not item.get_closest_marker("long")]
        modules = sorted({item.path for item in long})
        share = -(-len(items) // processes)
        dealt = []
        for process in range(processes):
            own = set(modules[process::processes])
            first = [item for item in long if item.path in own]
            fill = max(0, share - len(first))
            dealt += [*first, *rest[:fill]]
            rest = rest[fill:]
        items[:] = [*dealt, *rest]


def pytest_configure(config):
    config.pluginmanager.register(LongFirst())


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
