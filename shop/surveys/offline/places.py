"""Writes to places to keep clear, to studs and joists, and to beams."""

from __future__ import annotations

import datetime as dt
from typing import Any

from shop.surveys import actions
from shop.surveys.forms import BeamForm, MemberForm, ZoneForm
from shop.surveys.models import Beam, Member, Survey, Wall, Zone
from shop.surveys.offline.parts import NewPart
from shop.surveys.offline.records import Record, removed
from shop.surveys.reports.walk.places import BEAM, MEMBER, ZONE

_REMOVED = {"removed": removed}


def _store(part: Zone | Member | Beam, by: Any, at: dt.datetime) -> None:
    actions.store_part(part, part.survey, by=by, at=at)


def _on_wall(model: type[Zone] | type[Member]) -> Any:
    def make(wall: Wall) -> Zone | Member:
        return model(survey=wall.survey, wall=wall)

    return make


def _on_ceiling(model: type[Zone] | type[Member] | type[Beam]) -> Any:
    def make(survey: Survey) -> Zone | Member | Beam:
        return model(survey=survey)

    return make


ZONES = Record(ZONE, Zone.objects.with_survey, ZoneForm, _store, _REMOVED)
MEMBERS = Record(MEMBER, Member.objects.with_survey, MemberForm, _store, _REMOVED)
BEAMS = Record(BEAM, Beam.objects.with_survey, BeamForm, _store, _REMOVED)


def register_ops() -> None:
    """Name the writes."""
    for record, model in ((ZONES, Zone), (MEMBERS, Member)):
        record.register()
        parents = {"wall": _on_wall(model), "survey": _on_ceiling(model)}
        NewPart(record, parents).register()
    BEAMS.register()
    NewPart(BEAMS, {"survey": _on_ceiling(Beam)}).register()
