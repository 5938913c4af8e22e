"""What a room asks to be careful about, and why: escape windows, ceilings, glass, zones.

Sources stand beside each; local codes and licensed trades decide. Figures that a code gives
are named with it, and none is given where there is no safe general one.
"""

from __future__ import annotations

from dataclasses import dataclass

from shop.clients.engine import Caution
from shop.surveys.engine.asks import NOTHING, YES, Facts, When, holds

VERSION = "room-cautions-3"


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of a room that a caution may hang on.

    `constructions` are those of walls and ceiling. `has_window` is taken for granted while
    nobody has looked. `panes` are the glass and the facing of each window that gets a panel,
    empty words where nobody has looked.
    """

    sleeping_or_basement: bool = False
    has_window: bool = True
    ceiling: str = ""
    constructions: frozenset[str] = frozenset()
    heated: bool = False
    panes: frozenset[tuple[str, str]] = frozenset()
    zones: frozenset[str] = frozenset()


MASONRY = ("brick", "block", "concrete")

SEALED = "sealed"

# IRC R310: an escape window opens from inside without key or tool.
ESCAPE = Caution(
    "egress",
    "Escape window: it must stay free",
    "A bedroom’s or basement’s window may be the way out. It must open from inside with no"
    " key or tool; a panel in front of it must lift out by hand. Local code says which"
    " windows count and how large they must be.",
)
# As above, where the panel would stand in the way.
ESCAPE_WITH_PANEL = Caution(
    "egress",
    "Escape window with a panel: it must lift out by hand",
    "A bedroom’s or basement’s window may be the way out, and this one is to get a panel."
    " Fix nothing there that takes a tool, a key or strength, and show whoever sleeps there"
    " how it lifts out; leaving that window free is safer. Local code says which windows"
    " count and decides.",
)
# Common practice: the mounts work only while nothing bridges them.
ISOLATED = Caution(
    "isolated",
    "Isolated surface: no rigid screw through it",
    "A wall or ceiling on resilient mounts is undone by one screw that reaches what is"
    " behind. Ask who built it what it may carry and how.",
)
# Common practice.
HEATED = Caution(
    "heated",
    "Heating in the surface: no hole yet",
    "Pipes or wires run in it. Get the plan of the heating and find them before anything is"
    " drilled.",
)
# Common practice: a grid is rated for its own tiles.
GRID = Caution(
    "grid",
    "Suspended grid: nothing hangs from it",
    "Grid and its wires carry their own tiles. Hang from the structure above, or have the"
    " maker or an engineer say in writing what it may carry.",
)
# Common practice: heat builds up between glass and a close panel, and damp stays there.
GLASS = Caution(
    "glass",
    "Glass: no fixing, and mind heat and damp",
    "Nothing is fixed into glass. A panel close behind a pane traps heat, which can crack"
    " it, and damp: leave it removable and aired, and ask the maker of sealed units.",
)
# Common practice: sealed units fail at the edge, and sun makes a close panel a heat trap.
# Said of any side that was noted: which of them is sunny hangs on the half of the world.
HOT_GLASS = Caution(
    "glass",
    "Sun or a sealed unit behind a panel: ask the glass maker first",
    "Heat that a close panel keeps in can crack a pane in the sun, and a sealed unit fails"
    " at its edge. Look whether the sun reaches this side: it stands in the south north of"
    " the equator, in the north south of it, and comes to east and west everywhere. Damp"
    " settles on cold glass behind a panel. Have the maker of the glass say in writing what"
    " it takes. Leave air above and below, nothing fixed into the glass, and the panel easy"
    " to take out in hot sun and in frost.",
)
# 29 CFR 1926.1153 Table 1 and OSHA fact sheet.
SILICA = Caution(
    "silica",
    "Brick, block or concrete: drill with a vacuum",
    "Use a drill shroud with a vacuum, and a mask: the dust holds silica. Local limits"
    " apply (in the United States 50 µg/m³).",
)
# NFPA 13 as restated by university safety offices.
SPRINKLER = Caution(
    "sprinkler",
    "Sprinklers: keep below and clear",
    "Keep everything 18 in (457 mm) below the heads’ deflectors unless it is on the wall and"
    " not under a head. Never hang anything from the pipes. Ask the sprinkler contractor.",
)
# NFPA 72 summary, Vermont fire safety (supply air); 36 in round a panel: common practice.
DETECTOR = Caution(
    "detector",
    "Alarms: don’t cover or shield them",
    "Leave about 36 in (0.9 m) round a smoke or heat alarm, and don’t turn supply air onto"
    " it. The fire officer decides.",
)
# NEC 410.116.
DOWNLIGHT = Caution(
    "downlight",
    "Recessed lights: don’t trap their heat",
    "Fittings not marked for contact with insulation want 1/2 in (13 mm) to anything that"
    " burns and 3 in (75 mm) to insulation. Don’t cover them; an electrician decides.",
)


SHOWN: tuple[tuple[When, Caution], ...] = (
    ({"escape": YES, "panes": NOTHING}, ESCAPE),
    ({"escape": YES, "panes": YES}, ESCAPE_WITH_PANEL),
    ({"ceiling": ("grid",)}, GRID),
    ({"surfaces": ("isolated",)}, ISOLATED),
    ({"heated": YES}, HEATED),
    ({"zones": ("sprinkler",)}, SPRINKLER),
    ({"zones": ("detector",)}, DETECTOR),
    ({"zones": ("downlight",)}, DOWNLIGHT),
    ({"hot": YES}, HOT_GLASS),
    ({"hot": NOTHING, "panes": YES}, GLASS),
    ({"hot": NOTHING, "panes": NOTHING, "surfaces": ("glass",)}, GLASS),
    ({"surfaces": MASONRY}, SILICA),
)
"""Each caution with what triggers it, as data: devices ask the same (kernel/asks.js)."""


def cautions(known: Known) -> tuple[Caution, ...]:
    """Return the cautions whose trigger is present, those that can cost a life first.

    Parameters
    ----------
    known
        What is known of the room.
    """
    facts = _facts(known)
    return tuple(caution for when, caution in SHOWN if holds(when, facts))


def _facts(known: Known) -> Facts:
    hot = any(glass == SEALED or faces for glass, faces in known.panes)
    escape = known.sleeping_or_basement and known.has_window
    return {
        "escape": "yes" if escape else "",
        "panes": "yes" if known.panes else "",
        "hot": "yes" if hot else "",
        "heated": "yes" if known.heated else "",
        "ceiling": known.ceiling,
        "surfaces": sorted(known.constructions | {known.ceiling}),
        "zones": sorted(known.zones),
    }
