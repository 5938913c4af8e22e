"""Labels for single pieces: the number large, what it is, and its size."""

from __future__ import annotations

from collections.abc import Iterable

from shared.pdf import Letterhead, render_pdf
from shop.catalogue.models import StockPiece
from shop.catalogue.reports.pieces import piece_lines
from shop.people.models import ShopProfile


def labels_pdf(pieces: Iterable[StockPiece], *, profile: ShopProfile) -> bytes:
    """Print labels to cut out and stick on; slow, so never in a transaction."""
    letterhead = Letterhead(profile.name, profile.strapline, invented=profile.invented)
    context = {"lines": piece_lines(pieces), "letterhead": letterhead}
    return render_pdf("shop/catalogue/pdf/labels.html", context)
