"""How gunicorn runs for `make run`."""

from gunicorn.arbiter import Arbiter

# Threads, because a small shop's pages wait more on the disk than they compute.
workers = 2
threads = 4
worker_class = "gthread"
loglevel = "warning"
# Its own request log would carry paths; shared.logs writes one line for each request.
accesslog = None


def when_ready(server: Arbiter) -> None:
    """Say where it is, once it answers there."""
    addresses = " ".join(
        f"http://{host}:{port}/"
        for host, port in (s.getsockname() for s in server.LISTENERS)
    )
    print(f"\nCleatbook is at {addresses}   (Ctrl-C stops it)\n", flush=True)  # noqa: T201
