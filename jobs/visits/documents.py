"""Papers of a site day: the install sheet and the van list. Slow: never in a transaction."""

from __future__ import annotations

from jobs.visits.models import SiteDay
from jobs.visits.reports import install_sheet, van_page
from quotes.specs.documents import letterhead_of
from shared.pdf import render_pdf
from shop.people.models import ShopProfile


def install_sheet_pdf(
    day: SiteDay, *, profile: ShopProfile, with_client: bool
) -> bytes:
    """Print the install sheet; `with_client` adds address, access and phone."""
    context = {
        "day": day,
        "sheet": install_sheet(day),
        "with_client": with_client,
        "letterhead": letterhead_of(profile),
    }
    template = "jobs/visits/pdf/install_sheet.html"
    return render_pdf(template, context, spare_a_page=True)


def van_list_pdf(day: SiteDay, *, profile: ShopProfile) -> bytes:
    """Print the van list with boxes to tick; what is ticked already is ticked on it."""
    context = {
        "day": day,
        "van": van_page(day),
        "letterhead": letterhead_of(profile),
    }
    template = "jobs/visits/pdf/van_list.html"
    return render_pdf(template, context, spare_a_page=True)
