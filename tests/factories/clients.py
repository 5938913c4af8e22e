"""Clients, enquiries and sites, as small as they may be."""

from __future__ import annotations

import datetime as dt
from typing import Any

from shop.clients.models import Client, ClientDetails, Enquiry, Site


def make_client(
    *, name: str = "Mara Quill", phone: str = "", notes: str = "", **details: Any
) -> Client:
    """A client with the personal row."""
    client = Client.objects.create(notes=notes)
    personal = ClientDetails(client=client, name=name, phone=phone, **details)
    personal.index()
    personal.save()
    return client


def make_enquiry(
    *,
    client: Client | None = None,
    bothers: str = "It echoes when two tables talk.",
    asked_on: dt.date = dt.date(2026, 3, 2),
    **fields: Any,
) -> Enquiry:
    """What a client asked for."""
    return Enquiry.objects.create(
        client=client or make_client(), bothers=bothers, asked_on=asked_on, **fields
    )


def make_site(
    *, client: Client | None = None, address: str = "4 Weir Lane", **fields: Any
) -> Site:
    """A place where a client's rooms are."""
    site = Site(client=client or make_client(), address=address, **fields)
    site.index()
    site.save()
    return site
