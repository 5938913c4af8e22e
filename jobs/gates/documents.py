"""The paper that a client signs for a fabric with. Slow: never in a transaction."""

from __future__ import annotations

from jobs.gates.models import Gate
from jobs.gates.reports import sign_off
from quotes.specs.documents import letterhead_of
from shared.pdf import render_pdf
from shop.people.models import ShopProfile


def sign_off_pdf(gate: Gate, *, profile: ShopProfile) -> bytes:
    """Print one page: which fabric, on which panels, and what is agreed by signing."""
    context = {"sheet": sign_off(gate), "letterhead": letterhead_of(profile)}
    return render_pdf("jobs/gates/pdf/sign_off.html", context, spare_a_page=True)
