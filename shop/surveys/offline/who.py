"""Writes to the client, the room and the survey as a whole."""

from __future__ import annotations

import datetime as dt
from typing import Any

from shop.clients.actions import change_client, change_site
from shop.clients.forms import DetailsForm, SiteAccessForm
from shop.clients.models import Client, ClientDetails, Site
from shop.surveys import actions
from shop.surveys.forms import RoomForm, SurveyForm
from shop.surveys.models import Room, Survey
from shop.surveys.offline.inside import ROOM_WRITERS
from shop.surveys.offline.records import Record
from shop.surveys.reports.walk.site import SITE
from shop.surveys.reports.walk.who import CLIENT, ROOM, SURVEY


def _store_room(room: Room, by: Any, at: dt.datetime) -> None:
    actions.change_room(room, by=by, at=at)


def _store_survey(survey: Survey, by: Any, at: dt.datetime) -> None:
    actions.change_survey(survey, use=survey.room.use, by=by, at=at)


def _store_client(client: Client, by: Any, at: dt.datetime) -> None:
    change_client(client.details, notes=client.notes, by=by, at=at)


def _store_site(site: Site, by: Any, at: dt.datetime) -> None:
    change_site(site, by=by, at=at)


def _detail(name: str) -> Any:
    """Return what writes one of a client's personal fields."""

    def write(client: Client, typed: str, by: Any, at: dt.datetime) -> None:
        details: ClientDetails = client.details
        setattr(details, name, DetailsForm.base_fields[name].clean(typed))
        _store_client(client, by, at)

    return write


def register_ops() -> None:
    """Name the writes."""
    Record(
        CLIENT,
        Client.objects.with_details,
        DetailsForm,
        _store_client,
        writers={name: _detail(name) for name in CLIENT.names},
    ).register()
    Record(
        SITE,
        lambda: Site.objects.select_related("client"),
        SiteAccessForm,
        _store_site,
    ).register()
    Record(
        ROOM,
        Room.objects.all,
        RoomForm,
        _store_room,
        old_names={"room-text": "notes"},
    ).register()
    Record(
        SURVEY,
        lambda: Survey.objects.select_related("room"),
        SurveyForm,
        _store_survey,
        writers=ROOM_WRITERS,
        old_names={"survey-text": "notes"},
    ).register()
