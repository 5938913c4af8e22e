"""Enquiries and sites as rows, turned into what the engine takes and back."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from shared.conventions import Conventions
from shared.money import show_number
from shared.quantities import AREA
from shop.clients.engine import Ballpark, Range, Share, Told, ballpark
from shop.clients.models import Enquiry, Setting, Site, Tenure
from shop.people.models import ShopProfile


def _range(low: Decimal | None, high: Decimal | None) -> Range | None:
    return None if low is None or high is None else Range(low, high)


def ballpark_of(enquiry: Enquiry, shop: ShopProfile) -> Ballpark | None:
    """Reckon an enquiry's ballpark from the shop's own rates."""
    return ballpark(
        floor_m2=enquiry.floor_m2,
        panels=enquiry.panels,
        per_m2=floor_rates(shop),
        per_panel=_range(shop.ballpark_per_panel_from, shop.ballpark_per_panel_to),
    )


def floor_rates(shop: ShopProfile) -> Range | None:
    """Return what a m² of floor came to in this shop; nothing while it has not said."""
    return _range(shop.ballpark_per_m2_from, shop.ballpark_per_m2_to)


def ballpark_for_floor(floor_m2: Decimal, shop: ShopProfile) -> tuple[str, str] | None:
    """Say what a floor comes to by the shop's own rates, and how; nothing without one."""
    found = ballpark(
        floor_m2=floor_m2 or None,
        panels=None,
        per_m2=floor_rates(shop),
        per_panel=None,
    )
    if found is None:
        return None
    conventions = shop.conventions()
    return (
        shown_range(found.total.low, found.total.high, conventions),
        _how(found, conventions),
    )


def keep_ballpark(enquiry: Enquiry, shop: ShopProfile) -> None:
    """Put the ballpark on the row, with how it came, as it was reckoned that day."""
    found = ballpark_of(enquiry, shop)
    enquiry.ballpark_from = found.total.low if found else None
    enquiry.ballpark_to = found.total.high if found else None
    enquiry.ballpark_how = _how(found, shop.conventions()) if found else ""


def shown_range(low: Decimal, high: Decimal, conventions: Conventions) -> str:
    """Print a range of money without the cents that a ballpark has not got."""
    ends = (show_number(end, locale=conventions.locale) for end in (low, high))
    return f"{conventions.currency} {' to '.join(ends)}"


def _how(found: Ballpark, conventions: Conventions) -> str:
    """Say how a ballpark came, in one line."""
    ways = [_way(share, conventions) for share in found.shares]
    widest = "; the widest of both" if len(ways) > 1 else ""
    return f"{'; '.join(ways)}{widest}; rounded outwards to two figures"


def _way(share: Share, conventions: Conventions) -> str:
    amount, each, unit = share.amount, share.each, share.unit
    if unit == "m²" and not conventions.is_metric:
        per_ft2 = AREA.factor(AREA.imperial)
        amount, unit = amount / per_ft2, AREA.imperial
        each = Range(each.low * per_ft2, each.high * per_ft2)
    rate = shown_range(each.low, each.high, conventions)
    sum_ = shown_range(share.comes_to.low, share.comes_to.high, conventions)
    return f"{show_number(amount, locale=conventions.locale)} {unit} × {rate} = {sum_}"


def told(enquiry: Enquiry, sites: Iterable[Site]) -> Told:
    """Gather what is known; one site of unknown year makes the year unknown."""
    years = [site.year_built for site in sites]
    known = [year for year in years if year is not None]
    return Told(
        noise_comes_through=enquiry.wants_noise_kept_out,
        tenant=enquiry.tenure == Tenure.TENANT if enquiry.tenure else None,
        shared_use=enquiry.setting in (Setting.WORK, Setting.PUBLIC)
        if enquiry.setting
        else None,
        year_built=min(known) if known and len(known) == len(years) else None,
    )
