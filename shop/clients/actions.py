"""Write down clients, what they asked for, where their rooms are and what was said."""

from __future__ import annotations

import datetime as dt

from django.core.exceptions import ValidationError
from django.db import transaction

from shared.audit.actions import record
from shop.clients.adapter import keep_ballpark
from shop.clients.models import Client, ClientDetails, ClientNote, Enquiry, Site
from shop.people.models import Person
from shop.people.reports import profile


@transaction.atomic
def add_client(
    details: ClientDetails,
    *,
    enquiry: Enquiry | None = None,
    site: Site | None = None,
    client: Client | None = None,
    by: Person,
    at: dt.datetime,
) -> Client:
    """Write down a client, with the first enquiry and the site where they are known.

    A `client` that is given is new, too: its id was made elsewhere.
    """
    client = client or Client()
    client.save(force_insert=True)
    details.client = client
    details.index()
    details.full_clean()
    details.save()
    record(client, verb="add", text="Client written down", by=by, at=at)
    if enquiry is not None:
        enquiry.client = client
        add_enquiry(enquiry, by=by, at=at)
    if site is not None:
        site.client = client
        add_site(site, by=by, at=at)
    return client


@transaction.atomic
def change_client(
    details: ClientDetails, *, notes: str, by: Person, at: dt.datetime
) -> None:
    """Store changed details and what to keep in mind."""
    client = details.client
    client.notes = notes
    client.full_clean()
    client.save()
    details.index()
    details.full_clean()
    details.save()
    record(client, verb="change", text="Details changed", by=by, at=at)


@transaction.atomic
def archive_client(client: Client, *, by: Person, at: dt.datetime) -> None:
    """Put a client aside; nothing of theirs is lost."""
    client.archived_at = at
    client.save(update_fields=["archived_at"])
    record(client, verb="archive", text="Put aside", by=by, at=at)


@transaction.atomic
def restore_client(client: Client, *, by: Person, at: dt.datetime) -> None:
    """Take a client up again."""
    client.archived_at = None
    client.save(update_fields=["archived_at"])
    record(client, verb="restore", text="Taken up again", by=by, at=at)


def _store_enquiry(enquiry: Enquiry) -> None:
    keep_ballpark(enquiry, profile())
    enquiry.full_clean()
    enquiry.save()


@transaction.atomic
def add_enquiry(enquiry: Enquiry, *, by: Person, at: dt.datetime) -> Enquiry:
    """Write down what a client asked for, with a ballpark where one can be reckoned."""
    _store_enquiry(enquiry)
    text = f"Enquiry of {enquiry.asked_on:%d.%m.%Y} written down"
    record(enquiry.client, verb="enquiry", text=text, by=by, at=at)
    return enquiry


@transaction.atomic
def change_enquiry(enquiry: Enquiry, *, by: Person, at: dt.datetime) -> None:
    """Store a changed enquiry; its ballpark is reckoned anew by today's rates."""
    _store_enquiry(enquiry)
    text = f"Enquiry of {enquiry.asked_on:%d.%m.%Y} changed"
    record(enquiry.client, verb="enquiry", text=text, by=by, at=at)


@transaction.atomic
def archive_enquiry(enquiry: Enquiry, *, by: Person, at: dt.datetime) -> None:
    """Put an enquiry aside: it is counted and asked about no more."""
    _set_aside(enquiry, at, verb="archive", what="put aside", by=by, on=at)


@transaction.atomic
def restore_enquiry(enquiry: Enquiry, *, by: Person, at: dt.datetime) -> None:
    """Bring an enquiry back."""
    _set_aside(enquiry, None, verb="restore", what="brought back", by=by, on=at)


def _set_aside(
    row: Enquiry | Site,
    archived_at: dt.datetime | None,
    *,
    verb: str,
    what: str,
    by: Person,
    on: dt.datetime,
) -> None:
    row.archived_at = archived_at
    row.save(update_fields=["archived_at"])
    record(row.client, verb=verb, text=f"{_named(row)} {what}", by=by, at=on)


def _named(row: Enquiry | Site) -> str:
    if isinstance(row, Enquiry):
        return f"Enquiry of {row.asked_on:%d.%m.%Y}"
    return "Address of rooms"


def _store_site(site: Site) -> None:
    site.index()
    site.full_clean()
    site.save()


@transaction.atomic
def add_site(site: Site, *, by: Person, at: dt.datetime) -> Site:
    """Write down where a client's rooms are."""
    _store_site(site)
    record(site.client, verb="site", text="Address of rooms added", by=by, at=at)
    return site


@transaction.atomic
def change_site(site: Site, *, by: Person, at: dt.datetime) -> None:
    """Store a changed site."""
    _store_site(site)
    record(site.client, verb="site", text="Address of rooms changed", by=by, at=at)


@transaction.atomic
def archive_site(site: Site, *, by: Person, at: dt.datetime) -> None:
    """Put an address aside; refuse while rooms there are in use."""
    # Two who write at once wait for each other here.
    Site.objects.select_for_update().get(pk=site.pk)
    if rooms := site.rooms_in_use():
        they = "is" if len(rooms) == 1 else "are"
        it = "it" if len(rooms) == 1 else "them"
        raise ValidationError(
            f"{_listed(rooms)} {they} still in use there. Put {it} aside first."
        )
    _set_aside(site, at, verb="archive", what="put aside", by=by, on=at)


def _listed(names: list[str]) -> str:
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last


@transaction.atomic
def restore_site(site: Site, *, by: Person, at: dt.datetime) -> None:
    """Bring an address back."""
    _set_aside(site, None, verb="restore", what="brought back", by=by, on=at)


@transaction.atomic
def note_said(client: Client, *, text: str, by: Person, at: dt.datetime) -> ClientNote:
    """Write down what was said or agreed."""
    note = ClientNote(client=client, text=text, by=by, at=at)
    note.full_clean()
    note.save()
    record(client, verb="said", text="Note of a talk added", by=by, at=at)
    return note
