"""What the client has to be told before saying yes: cautions whose trigger is present."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from quotes.offers.rows import DraftRows
from quotes.specs.models import PanelKind
from quotes.specs.reports import PanelGroup
from shop.clients.engine import Caution
from shop.surveys.reports import cautions_in

# ASCE 7 and 29 CFR 1910.184 govern lifting; a fixed panel is ours and the engineer's.
OVERHEAD = Caution(
    "overhead",
    "Panels overhead",
    "Each hanging point must reach framing that can carry it, with rated parts only. Where"
    " a rating is missing the install sheet says so, and the panel is not cleared to hang"
    " until a competent person has.",
)
NOT_FOR_THE_CLIENT = frozenset({"silica"})
"""For whoever drills: on the install sheet."""

EGRESS = "egress"
"""Concerns the client only when a panel goes into a window."""


def cautions_of(rows: DraftRows, groups: Iterable[PanelGroup]) -> tuple[Caution, ...]:
    """Gather each caution once: of the builds, the rooms and their sites."""
    kinds = {group.worked.spec.kind for group in groups}
    found = (*_of_kinds(kinds), *_of_rooms(rows, kinds))
    return tuple({caution.key: caution for caution in found}.values())


def _of_kinds(kinds: set[str]) -> Iterator[Caution]:
    if PanelKind.HUNG in kinds:
        yield OVERHEAD


def _of_rooms(rows: DraftRows, kinds: set[str]) -> Iterator[Caution]:
    surveys = {survey.room_id: survey for survey in rows.surveys}
    for room in rows.rooms:
        for caution in cautions_in(room, surveys.get(room.pk)):
            if caution.key in NOT_FOR_THE_CLIENT:
                continue
            if caution.key != EGRESS or PanelKind.REVEAL in kinds:
                yield caution
