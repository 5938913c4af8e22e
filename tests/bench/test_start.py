"""How long the second `make run` takes from the command to the first answer."""

import time

import pytest

from tests.test_deploy import free_port, interrupt, start

__all__ = ["start"]

pytestmark = pytest.mark.bench

# Seconds; what a person is promised.
PROMISED = 5.0


def test_a_second_start_is_quick(start, capsys):
    port = free_port()
    process, _ = start(port)
    interrupt(process)
    begun = time.perf_counter()
    process, _ = start(port)
    taken = time.perf_counter() - begun
    interrupt(process)
    with capsys.disabled():
        print(f"\nsecond start: {taken:.1f} s, promised under {PROMISED:.0f} s")
    assert taken < PROMISED
