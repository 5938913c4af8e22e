"""Takes README's pictures from the demo, in a data folder of its own.

The pictures lie beside this file, in pictures/.
"""

import os
import shutil
import sys
import tempfile
import threading
from pathlib import Path
from socketserver import ThreadingMixIn
from wsgiref.simple_server import WSGIRequestHandler, WSGIServer, make_server

ROOT = Path(__file__).resolve().parent.parent
PICTURES = Path(__file__).parent / "pictures"

# How many figures to open: how one comes about is half the point.
OPENED = {"bench": 0, "quote": 1}


class Server(ThreadingMixIn, WSGIServer):
    """Answers several requests of one page at once."""

    daemon_threads = True


class Quiet(WSGIRequestHandler):
    """Says nothing of each request."""

    def log_message(self, format: str, *args: object) -> None:
        """Leave the terminal to what went wrong."""


def load_demo() -> None:
    """Make a new installation with the demo in it."""
    import django
    from django.core.management import call_command

    django.setup()
    call_command("migrate", interactive=False, verbosity=0)
    call_command("load_demo")


def serve() -> str:
    """Start a server on a free port and return its address."""
    from shop.wsgi import application

    server = make_server(
        "127.0.0.1", 0, application, server_class=Server, handler_class=Quiet
    )
    threading.Thread(target=server.serve_forever, daemon=True).start()
    return f"http://127.0.0.1:{server.server_port}"


def pages() -> dict[str, str]:
    """Return the address of each picture's page: the job with most panels, the last quote."""
    from django.urls import reverse

    from jobs.board.models import Job
    from quotes.offers.models import Quote

    quote = Quote.objects.order_by("number").last()
    if quote is None:
        sys.exit("The demo holds no quote.")
    job = max(Job.objects.all(), key=lambda job: job.panels.count())
    return {
        "bench": f"{reverse('jobs:bench')}?job={job.code}",
        "quote": quote.get_absolute_url(),
    }


def take(address: str) -> None:
    """Take each picture as the owner sees the page on a tablet."""
    from playwright.sync_api import sync_playwright

    from shop.people.models import Person
    from tests.browser.conftest import TABLET, session_cookie

    owner = Person.objects.active().filter(role="owner")[0]
    cookie, wanted = session_cookie(owner, address), pages()
    PICTURES.mkdir(exist_ok=True)
    with sync_playwright() as driver:
        browser = driver.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox"]
        )
        context = browser.new_context(viewport=TABLET, base_url=address)
        context.add_cookies([cookie])
        page = context.new_page()
        for name, path in wanted.items():
            page.goto(path)
            page.wait_for_load_state("networkidle")
            for figure in range(OPENED[name]):
                page.locator("main summary:visible").nth(figure).click()
            page.mouse.move(0, 0)
            page.screenshot(path=PICTURES / f"{name}.png")
        browser.close()


def main() -> None:
    """Take the pictures and leave nothing else behind."""
    with tempfile.TemporaryDirectory() as data:
        sys.path.insert(0, str(ROOT))
        os.environ |= {
            "CLEATBOOK_DATA": data,
            "CLEATBOOK_LOG_LEVEL": "ERROR",
            "DATABASE_URL": "",
            "DJANGO_SETTINGS_MODULE": "shop.settings",
            "DJANGO_ALLOW_ASYNC_UNSAFE": "true",
        }
        load_demo()
        take(serve())


if __name__ == "__main__":
    main()
