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


def heed_ctrl_c() -> None:
    """Undo what a run in the background hands on: there Ctrl-C is ignored."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


@pytest.fixture
def start(tmp_path):
    """Return a function that starts Cleatbook and returns what it said until it served."""
    started = []

    def starting(port, until="Cleatbook is at"):
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
            preexec_fn=heed_ctrl_c,
        )
        started.append(process)
        said = ""
        for line in process.stdout:
            said += line
            if until in line:
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


def quiet(last_words) -> bool:
    """Whether it ended by itself and in order."""
    noise = ("Traceback", "WARNING", "Terminated", "was killed")
    return not any(word in last_words for word in noise)


def is_free(port) -> bool:
    with socket.socket() as probe:
        return probe.connect_ex(("127.0.0.1", port)) != 0


@pytest.mark.long
def test_run_serves_the_demo_and_stops_and_starts_again(start):
    port = free_port()
    process, said = start(port)
    address = f"http://127.0.0.1:{port}"
    assert f"Cleatbook is at {address}/" in said
    assert [role for role in ROLES if role not in said.lower()] == []

    with urllib.request.urlopen(address + reverse("shop:sign-in")) as page:
        assert page.status == 200
        assert page.headers["Content-Security-Policy"]
    assert quiet(interrupt(process))
    assert is_free(port)

    process, said = start(port)
    assert [role for role in ROLES if role not in said.lower()] == []
    assert "Applying" not in said
    assert quiet(interrupt(process))


def test_stops_in_peace_while_it_is_still_being_set_up(start):
    port = free_port()
    process, _ = start(port, until="Loading the invented shop")
    assert quiet(interrupt(process))
    assert is_free(port)
