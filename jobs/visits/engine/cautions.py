"""The fitter's cautions: at most five short lines, whose trigger is present.

They defer to local codes and licensed trades. Figures stand with whoever gives them; no
other is given. Sources beside each: what was read of them is told in tests/outside.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from jobs.visits.engine.model import DRILLED, Holding
from jobs.visits.engine.surfaces import MASONRY
from shop.clients.engine.cautions import ASBESTOS_BEFORE, LEAD_PAINT_BEFORE

VERSION = "site cautions 1"
MOST = 5


@dataclass(frozen=True, slots=True)
class Site:
    """What is known of the place and of what goes up; empty text is not looked at yet.

    `surfaces` are what holes go into. `year_built` None counts as old.
    """

    holdings: frozenset[Holding]
    surfaces: frozenset[str] = frozenset()
    year_built: int | None = None
    too_heavy: bool = False
    heated: bool = False
    escape_window: bool = False
    hollow_anchors: bool = False
    zones: frozenset[str] = frozenset()

    @property
    def drilled(self) -> bool:
        """Whether there are any holes in the building."""
        return bool(self.holdings & DRILLED)


@dataclass(frozen=True, slots=True)
class SiteCaution:
    """One caution of the install sheet: a title and one short line or two."""

    key: str
    title: str
    text: str


# NAVEDTRA 14080 (sharing); yearly look: common practice.
OVERHEAD = SiteCaution(
    "overhead",
    "Overhead",
    "Every point in framing, rated parts only, links locked, each point tugged. Nobody"
    " stands below.",
)
# NEC 300.4.
HIDDEN = SiteCaution(
    "hidden",
    "Hidden wires and pipes",
    "Scan each hole, switch the circuit off. A cable may lie 32 mm (1-1/4 in) behind a"
    " stud’s edge: a long screw reaches it.",
)
# Common practice: a hole in a heated surface may meet a pipe or a heating wire.
HEATED = SiteCaution(
    "heated",
    "Heating in the surface",
    "No hole before its pipes or wires are found on a plan or by a heat picture.",
)
# IRC R310.
EGRESS = SiteCaution(
    "egress",
    "Escape window",
    "It must open from inside with no key or tool: the panel lifts out by hand, shown to"
    " the client. Local code decides.",
)
# 29 CFR 1926.1153 Table 1.
SILICA = SiteCaution(
    "silica",
    "Silica dust",
    "Drill brick, block and concrete with a shroud and vacuum, and a mask on.",
)
# NIOSH 94-110: 23 kg (51 lb) is the limit of an ideal lift; overhead it is less.
LIFT = SiteCaution(
    "lift",
    "Lifting",
    "Two people or a panel lift for anything overhead or over 23 kg (51 lb).",
)
# 29 CFR 1926.1053(b).
LADDER = SiteCaution(
    "ladder",
    "Ladder",
    "Face it, three contacts, never on the top step; a leaning one stands 1 out for 4 up.",
)
# NFPA 13 as restated by university safety offices.
SPRINKLER = SiteCaution(
    "sprinkler",
    "Sprinklers",
    "Stay 457 mm (18 in) below the heads’ deflectors and never hang from the pipes. The"
    " sprinkler contractor decides.",
)
# NFPA 72 summary (supply air); the distance round a panel: common practice.
DETECTOR = SiteCaution(
    "detector",
    "Smoke and heat alarms",
    "Cover none; leave about 0.9 m (36 in) round each.",
)
# NEC 410.116.
DOWNLIGHT = SiteCaution(
    "downlight",
    "Recessed lights",
    "13 mm (1/2 in) to anything that burns, 75 mm (3 in) to wool, unless marked for it.",
)
# No generic capacity was found: the maker's for this board, typed in by the shop.
ANCHOR = SiteCaution(
    "anchor",
    "Hollow-wall anchors",
    "Only by the maker’s working load for this board and thickness; never overhead.",
)


def site_cautions(site: Site) -> tuple[SiteCaution, ...]:
    """Give the cautions whose trigger is present, five at most.

    First what can kill whoever is in the room later or the fitter at once, then dust and
    old paint, then lifting and climbing, then what is near.
    """
    return tuple(_present(site))[:MOST]


def _present(site: Site) -> Iterator[SiteCaution]:
    overhead = Holding.CHAIN in site.holdings
    shown = (
        (overhead, OVERHEAD),
        (site.drilled, HIDDEN),
        (site.heated and site.drilled, HEATED),
        (site.escape_window, EGRESS),
    )
    yield from _of(shown)
    if site.drilled:
        yield from _old(site)
    later = (
        (site.drilled and bool(site.surfaces & (MASONRY | {""})), SILICA),
        (site.too_heavy or overhead, LIFT),
        ("sprinkler" in site.zones, SPRINKLER),
        ("detector" in site.zones, DETECTOR),
        ("downlight" in site.zones, DOWNLIGHT),
        (site.hollow_anchors, ANCHOR),
        (bool(site.holdings & {Holding.CHAIN, Holding.CLEAT}), LADDER),
    )
    yield from _of(later)


def _of(shown: Iterable[tuple[bool, SiteCaution]]) -> Iterator[SiteCaution]:
    return (caution for present, caution in shown if present)


def _old(site: Site) -> Iterator[SiteCaution]:
    """Give old paint and old ceilings as one line: 40 CFR 745, EPA's guidance."""
    year = site.year_built
    if year is not None and year >= ASBESTOS_BEFORE:
        return
    lead = year is None or year < LEAD_PAINT_BEFORE
    what = "lead in paint and asbestos in ceilings" if lead else "asbestos in ceilings"
    when = f"Built in {year}" if year else "Year unknown, so taken as old"
    yield SiteCaution(
        "old",
        "Old paint, old ceilings" if lead else "Old ceilings",
        f"{when}: {what} can only be told by a test. No drilling or scraping of suspect"
        " layers before it.",
    )
