"""Ticks of the van list from a device that is away: a line is a field of its site day."""

from __future__ import annotations

import datetime as dt
import uuid
from typing import Any

from jobs.visits import actions
from jobs.visits.models import SiteDay, VanTick
from jobs.visits.reports import van_page
from shared.access import Right
from shared.offline import Op, Refused, register

TICKED, OPEN = "yes", ""


def _day(pk: uuid.UUID) -> SiteDay:
    day: SiteDay | None = SiteDay.objects.filter(pk=pk).first()
    if day is None:
        raise Refused("This site day is no longer there.")
    return day


def _tick(by: Any, pk: uuid.UUID, key: str, value: str, at: dt.datetime) -> None:
    day = _day(pk)
    if key not in van_page(day).keys or value not in {TICKED, OPEN}:
        raise Refused("This is no longer on the van list of that day.")
    actions.tick(day, key, on=value == TICKED, by=by, at=at)


def _read(pk: uuid.UUID, key: str) -> str:
    return TICKED if key in VanTick.objects.standing(_day(pk)) else OPEN


def register_ops() -> None:
    """Name the writes that a site day takes."""
    register(Op("van-tick", "site-day", None, Right.LOAD_VAN, write=_tick, read=_read))
