"""How gunicorn runs for `make run`."""

import signal

from gunicorn.arbiter import Arbiter
from gunicorn.workers.base import Worker

# Threads, because a small shop's pages wait more on the disk than they compute.
workers = 2
threads = 4
worker_class = "gthread"
loglevel = "warning"
# Its own request log would carry paths; shared.logs writes one line for each request.
accesslog = None
# As long as a request may still take after being told to stop; .ci/serve.sh waits longer.
graceful_timeout = 10


def post_fork(server: Arbiter, worker: Worker) -> None:
    """Let a worker end when it is told to before it listens for that by itself.

    Until then it has the arbiter's own handler, which would note it and do nothing.
    """
    signal.signal(signal.SIGTERM, signal.SIG_DFL)


def post_worker_init(worker: Worker) -> None:
    """Say where it is, once the first worker can answer there."""
    if worker.age != 1:
        return
    scheme = "https" if worker.cfg.is_ssl else "http"
    addresses = " ".join(
        f"{scheme}://{host}:{port}/"
        for host, port in (s.getsockname() for s in worker.sockets)
    )
    print(f"\nCleatbook is at {addresses}   (Ctrl-C stops it)\n", flush=True)  # noqa: T201
