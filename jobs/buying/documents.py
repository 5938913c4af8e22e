"""The order as the supplier gets it. Slow: never in a transaction."""

from __future__ import annotations

import datetime as dt

from jobs.buying.reports.orders import OrderPaper
from quotes.offers.documents import letterhead_of
from shared.conventions import current, today
from shared.pdf import render_html, render_pdf
from shop.people.models import ShopProfile

TEMPLATE = "jobs/buying/pdf/order.html"
HEAD = ("name", "strapline", "address", "phone", "email", "web", "invented")


def order_pdf(paper: OrderPaper, *, shop: ShopProfile, on: dt.datetime) -> bytes:
    """Print an order."""
    return render_pdf(TEMPLATE, _context(paper, shop=shop, on=on))


def order_html(paper: OrderPaper, *, shop: ShopProfile, on: dt.datetime) -> str:
    """Give the HTML that the PDF is printed from, for tests."""
    return render_html(TEMPLATE, _context(paper, shop=shop, on=on))


def _context(
    paper: OrderPaper, *, shop: ShopProfile, on: dt.datetime
) -> dict[str, object]:
    language = current().locale.replace("_", "-")
    return {
        "paper_of": paper,
        "order": paper.order,
        "on": today(on),
        "letterhead": letterhead_of({name: getattr(shop, name) for name in HEAD}),
        "language": language if language.startswith("en") else "en-GB",
    }
