"""`make run` on a new data folder: it serves, says how to sign in, and stops when told."""

import os
import signal
import socket
import subprocess
import urllib.request
from pathlib import Path

import pytest
from django.conf import settings
from django.urls import reverse

ROOT = Path(settings.BASE_DIR)
ROLES = ("owner", "office", "maker", "fitter")


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
    return port


@pytest.fixture
def start(tmp_path):
    """Return a function that starts Cleatbook and returns what it said until it served."""
    started = []

    def starting(port):
        kept = {k: v for k, v in os.environ.items() if not k.startswith("CLEATBOOK_")}
        process = subprocess.Popen(
            ["make", "--no-print-directory", "run"],
            cwd=ROOT,
            env=kept
            | {
                "PORT": str(port),
                "CLEATBOOK_DATA": str(tmp_path / "data"),
                "DATABASE_URL": "",
                "DJANGO_SETTINGS_MODULE": "shop.settings",
            },
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            start_new_session=True,
        )
        started.append(process)
        said = ""
        for line in process.stdout:
            said += line
            if "Cleatbook is at" in line:
                return process, said
        pytest.fail(f"It ended before it served:\n{said}")

    yield starting
    for process in started:
        if process.poll() is None:
            os.killpg(process.pid, signal.SIGTERM)
        process.wait(timeout=30)
        process.stdout.close()


def interrupt(process) -> str:
    """Press Ctrl-C, which reaches every process of the group, and return the last words."""
    os.killpg(process.pid, signal.SIGINT)
    said: str = process.communicate(timeout=30)[0]
    return said


def test_run_serves_the_demo_and_stops_and_starts_again(start):
    port = free_port()
    process, said = start(port)
    address = f"http://127.0.0.1:{port}"
    assert f"Cleatbook is at {address}/" in said
    assert [role for role in ROLES if role not in said.lower()] == []

    with urllib.request.urlopen(address + reverse("shop:sign-in")) as page:
        assert page.status == 200
        assert page.headers["Content-Security-Policy"]
    last_words = interrupt(process)
    assert "Traceback" not in last_words
    assert "WARNING" not in last_words
    with socket.socket() as probe:
        assert probe.connect_ex(("127.0.0.1", port)) != 0

    process, said = start(port)
    assert [role for role in ROLES if role not in said.lower()] == []
    assert "Applying" not in said
    interrupt(process)
