"""A client's page: enquiries with their ballpark and cautions, sites, what was said."""

from __future__ import annotations

from dataclasses import dataclass

from shared.audit.reports import LogLine, log_of
from shared.conventions import current
from shop.clients.adapter import shown_range, told
from shop.clients.engine import Caution, cautions
from shop.clients.models import Client, ClientNote, Enquiry, Site

SAID_SHOWN = 50


@dataclass(frozen=True, slots=True)
class ShownEnquiry:
    """An enquiry with what can be answered to it."""

    enquiry: Enquiry
    ballpark: str
    cautions: tuple[Caution, ...]

    @property
    def budget(self) -> str:
        """The budget's band in words."""
        low, high = self.enquiry.budget_from, self.enquiry.budget_to
        if low is not None and high is not None:
            return shown_range(low, high, current())
        if high is not None:
            return f"up to {shown_range(high, high, current()).split(' to ')[0]}"
        if low is not None:
            return f"from {shown_range(low, low, current()).split(' to ')[0]}"
        return ""


@dataclass(frozen=True, slots=True)
class Aside:
    """What of a client was put aside and can be brought back."""

    enquiries: tuple[Enquiry, ...]
    sites: tuple[Site, ...]


@dataclass(frozen=True, slots=True)
class ClientPage:
    """Everything that is known of a client."""

    client: Client
    enquiries: tuple[ShownEnquiry, ...]
    sites: tuple[Site, ...]
    aside: Aside
    said: tuple[ClientNote, ...]
    log: tuple[LogLine, ...]


def client_page(client: Client) -> ClientPage:
    """Gather a client's page. Four queries, however much there is."""
    all_sites, asked = tuple(client.sites.all()), tuple(client.enquiries.all())
    sites = tuple(site for site in all_sites if not site.is_archived)
    return ClientPage(
        client=client,
        enquiries=tuple(_shown(e, sites) for e in asked if not e.is_archived),
        sites=sites,
        aside=Aside(
            enquiries=tuple(e for e in asked if e.is_archived),
            sites=tuple(site for site in all_sites if site.is_archived),
        ),
        said=tuple(client.said.select_related("by")[:SAID_SHOWN]),
        log=log_of(client),
    )


def _shown(enquiry: Enquiry, sites: tuple[Site, ...]) -> ShownEnquiry:
    low, high = enquiry.ballpark_from, enquiry.ballpark_to
    known = low is not None and high is not None
    return ShownEnquiry(
        enquiry=enquiry,
        ballpark=shown_range(low, high, current()) if known else "",
        cautions=cautions(told(enquiry, sites)),
    )
