"""A client's page: enquiries with their ballpark and cautions, sites, what was said."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from shared.audit.reports import LogLine, log_of
from shared.conventions import current
from shared.length import show
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
class AccessFact:
    """One thing that is known of getting into a site and working there."""

    label: str
    text: str


@dataclass(frozen=True, slots=True)
class ShownSite:
    """An address with what is known of getting in and working there."""

    site: Site
    access: tuple[AccessFact, ...]


@dataclass(frozen=True, slots=True)
class ClientPage:
    """Everything that is known of a client."""

    client: Client
    enquiries: tuple[ShownEnquiry, ...]
    sites: tuple[ShownSite, ...]
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
        sites=tuple(ShownSite(site, access_facts(site)) for site in sites),
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


_ACCESS = (
    *("parking", "stairs", "lift", "narrowest_door_ticks", "floor_protection"),
    *("working_hours", "power", "who_is_there", "purchase_order"),
    *("insurance_papers", "induction"),
)


def access_facts(site: Site) -> tuple[AccessFact, ...]:
    """Return what is known of getting in, in the order of a day there. No query."""
    known: dict[str, Any] = {field.name: field for field in site._meta.fields}
    shown = ((known[name].verbose_name, _access(site, name)) for name in _ACCESS)
    return tuple(
        AccessFact(f"{label[:1].upper()}{label[1:]}", text)
        for label, text in shown
        if text
    )


def _access(site: Site, name: str) -> str:
    value = getattr(site, name)
    if value is None or not name.endswith("_ticks"):
        return str(value or "")
    conventions = current()
    return show(value, units=conventions.unit_system, fraction=conventions.fraction)


def getting_in(site: Site) -> str:
    """Return all that is known of getting in as one text, a line for each thing."""
    lines = [f"{fact.label}: {fact.text}" for fact in access_facts(site)]
    return "\n".join([*filter(None, [site.access_notes]), *lines])
