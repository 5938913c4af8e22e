"""The quote as the client gets it: made from the snapshot alone."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django.template.loader import render_to_string
from django.utils.safestring import SafeString, mark_safe

from quotes.offers.paper import Snapshot, paper_of
from shared.conventions import Conventions, using
from shared.length import UnitSystem
from shared.pdf import Letterhead, render_html, render_pdf

TEMPLATE = "quotes/offers/pdf/quote.html"
AGREED = "quotes/offers/_agreed.html"

COSTS = {
    "materials": "Materials",
    "labour": "Work",
    "travel": "Travel",
    "overhead": "Overhead",
    "cost": "Cost",
    "price": "Price without tax",
}
"""What is shown of the costs of a settled quote beside its margin, by its name in the snapshot."""


def quote_pdf(snapshot: Snapshot) -> bytes:
    """Print a snapshot in its own conventions; slow, so never inside a transaction."""
    with using(conventions_of(snapshot)):
        return render_pdf(TEMPLATE, _context(snapshot))


def quote_html(snapshot: Snapshot) -> str:
    """Give the HTML that the PDF is printed from, for tests and measurements."""
    with using(conventions_of(snapshot)):
        return render_html(TEMPLATE, _context(snapshot))


def agreed_html(snapshot: Snapshot) -> SafeString:
    """Give the part of a page that shows what was sent, in its own conventions."""
    with using(conventions_of(snapshot)):
        costs = [(w, Decimal(snapshot["costs"][name])) for name, w in COSTS.items()]
        context = {
            "quote": paper_of(snapshot),
            "costs": costs,
            "margin": Decimal(snapshot["costs"]["margin"]),
            "workings": snapshot["costs"].get("workings", ()),
        }
        return mark_safe(render_to_string(AGREED, context))  # noqa: S308 our template


def _context(snapshot: Snapshot) -> dict[str, Any]:
    language = snapshot["shop"]["locale"].replace("_", "-")
    return {
        "quote": paper_of(snapshot),
        "letterhead": letterhead_of(snapshot["shop"]),
        # The paper's own words are English whatever the shop's numbers look like.
        "language": language if language.startswith("en") else "en-GB",
    }


def conventions_of(snapshot: Snapshot) -> Conventions:
    """Return the conventions that the snapshot was written in."""
    shop = snapshot["shop"]
    return Conventions(
        unit_system=UnitSystem(shop["unit_system"]),
        fraction=int(shop["fraction"]),
        currency=shop["currency"],
        locale=shop["locale"],
        time_zone=shop["time_zone"],
        paper=shop["paper"],
    )


def letterhead_of(shop: Mapping[str, Any]) -> Letterhead:
    """Head the client's papers: address and how to reach the shop."""
    contact = " · ".join(shop[name] for name in ("phone", "email", "web") if shop[name])
    lines = (*shop["address"].splitlines(), contact)
    return Letterhead(
        shop["name"],
        shop["strapline"],
        tuple(line for line in lines if line.strip()),
        invented=shop["invented"],
    )
