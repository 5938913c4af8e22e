"""What the client has to be told before saying yes: cautions whose trigger is present."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from quotes.offers.rows import DraftRows
from quotes.specs.models import PanelKind
from quotes.specs.reports import PanelGroup
from shop.clients.engine import Caution, Told, cautions
from shop.clients.models import Setting, Site, Tenure

# ASCE 7 and 29 CFR 1910.184 govern lifting; a fixed panel is ours and the engineer's.
OVERHEAD = Caution(
    "overhead",
    "Panels overhead",
    "Each hanging point must reach framing that can carry it, with rated parts only. Where"
    " a rating is missing the install sheet says so, and the panel is not cleared to hang"
    " until a competent person has.",
)
# IRC R310 as a trigger; the figures are the local code's.
EGRESS = Caution(
    "egress",
    "Escape windows",
    "A panel in the window of a bedroom or basement must lift out by hand, and the window"
    " must open from inside without key or tool. Local code decides.",
)
# Common practice, no source.
CONDENSATION = Caution(
    "condensation",
    "Behind glass",
    "A panel close to a window can make the glass colder and wet, or hot in the sun. Take it"
    " out now and then, and look.",
)


def cautions_of(rows: DraftRows, groups: Iterable[PanelGroup]) -> tuple[Caution, ...]:
    """Gather each caution once: of the sites, the rooms and the builds."""
    found = (*_of_sites(rows.sites), *_of_groups(rows, tuple(groups)))
    return tuple({caution.key: caution for caution in found}.values())


def _of_sites(sites: Iterable[Site]) -> Iterator[Caution]:
    for site in sites:
        yield from cautions(
            Told(
                tenant=site.tenure == Tenure.TENANT if site.tenure else None,
                shared_use=site.setting != Setting.PRIVATE if site.setting else None,
                year_built=site.year_built,
            )
        )


def _of_groups(rows: DraftRows, groups: tuple[PanelGroup, ...]) -> Iterator[Caution]:
    kinds = {group.worked.spec.kind for group in groups}
    if PanelKind.HUNG in kinds:
        yield OVERHEAD
    if PanelKind.REVEAL in kinds:
        if any(room.sleeping_or_basement for room in rows.rooms):
            yield EGRESS
        yield CONDENSATION
