"""A survey begun on a device that may be away: one write makes all that it needs."""

from __future__ import annotations

import datetime as dt
import uuid
from typing import Any

from shared.access import Right
from shared.offline import Op, Refused, register
from shop.surveys.actions.begin import Ids, begin_survey
from shop.surveys.offline.parts import UNREADABLE, read_id, read_object

SURVEY_BEGIN = "survey-begin"


def _begin(by: Any, pk: uuid.UUID, _: str, value: str, at: dt.datetime) -> None:
    said = read_object(value)
    walls = said.get("walls")
    if not isinstance(walls, list):
        raise Refused(UNREADABLE)
    ids = Ids(
        survey=pk,
        room=read_id(said.get("room")),
        walls=tuple(read_id(wall) for wall in walls),
        site=read_id(said["site"]) if said.get("site") else None,
        client=read_id(said["client"]) if said.get("client") else None,
    )
    begin_survey(ids, shape=str(said.get("shape", "")), by=by, at=at)


def register_ops() -> None:
    """Name the write."""
    register(
        Op(
            SURVEY_BEGIN,
            "survey",
            frozenset({"new"}),
            Right.SURVEY,
            write=_begin,
            read=lambda *_: "",
            makes_record=True,
        )
    )
