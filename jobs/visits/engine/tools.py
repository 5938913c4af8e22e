"""Tools and bits by how panels hang and what they hang on, each with its reason.

Common practice, no source: a shop that works otherwise takes what it needs besides.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from jobs.board.codes import runs_of
from jobs.visits.engine.model import DRILLED, ON_WALLS, Holding, Line, Load, VanPanel
from jobs.visits.engine.surfaces import (
    MASONRY,
    UNDRILLED,
    WOODEN,
    Surface,
    because,
    drilled,
    made_of,
)
from jobs.visits.engine.words import counted, listed

ALL = frozenset(Holding)
UP_HIGH = frozenset({Holding.CHAIN, Holding.CLEAT})


@dataclass(frozen=True, slots=True)
class Tool:
    """A tool that goes when a panel hangs in one of these ways."""

    key: str
    name: str
    wanted: frozenset[Holding]
    why: str


TOOLS = (
    Tool("tape", "Tape measure and pencil", ALL, "to mark every position"),
    Tool(
        "masking",
        "Masking tape",
        ALL,
        "to show the client each position before the first hole",
    ),
    Tool("sheets", "Dust sheets", ALL, "for floor and furniture"),
    Tool("gloves", "Clean gloves", ALL, "for everything with fabric on it"),
    Tool(
        "laser",
        "Line laser",
        DRILLED,
        "heights are above or below one line, never from an uneven floor",
    ),
    Tool("level", "Spirit level", ON_WALLS, "for each cleat and batten"),
    Tool(
        "finder",
        "Stud and cable finder",
        DRILLED,
        "for the framing, and for what lies hidden beside it",
    ),
    Tool("drill", "Drill with a full spare battery", DRILLED, "for the pilot holes"),
    Tool("driver", "Driver with a full spare battery", DRILLED, "for the screws"),
    Tool(
        "guards",
        "Eye and ear protection, dust masks",
        DRILLED,
        "for whoever drills, and whoever helps",
    ),
    Tool(
        "vacuum",
        "Vacuum",
        DRILLED,
        "the last dust goes before the first fabric is unwrapped",
    ),
    Tool("ladder", "Step ladder", UP_HIGH, "for whatever is above reach"),
    Tool(
        "spanners",
        "Spanners and pliers",
        frozenset({Holding.CHAIN}),
        "each link is closed and locked",
    ),
    Tool(
        "trim",
        "Long straight edge with a level",
        frozenset({Holding.CHAIN}),
        "to level what hangs, link by link",
    ),
    Tool(
        "tuck",
        "Flat plastic scraper",
        frozenset({Holding.EDGE}),
        "to tuck the edge strip in without pulling the fabric",
    ),
    Tool(
        "foot-key",
        "Key or socket for the feet’s bolts",
        frozenset({Holding.FEET}),
        "the feet go on at the place",
    ),
)


def tools(load: Load) -> tuple[Line, ...]:
    """Give the tools that these panels ask for."""
    ways = {panel.holding for panel in load.panels}
    return (
        *(
            Line(f"tool:{tool.key}", tool.name, why=tool.why)
            for tool in TOOLS
            if tool.wanted & ways
        ),
        *_lifting(load.panels),
        *_for_masonry(load),
    )


def _lifting(panels: tuple[VanPanel, ...]) -> Iterator[Line]:
    heavy = [p.code for p in panels if p.mass_kg > p.one_person_kg]
    above = [p.code for p in panels if p.holding is Holding.CHAIN]
    reasons = [
        f"{runs_of(codes)} {words}"
        for codes, words in (
            (above, "over head height"),
            (heavy, "too heavy for one person"),
        )
        if codes
    ]
    if reasons:
        yield Line(
            "tool:lift", "Panel lift, or a second pair of hands", listed(reasons)
        )


def _for_masonry(load: Load) -> Iterator[Line]:
    hard = made_of(drilled(load), MASONRY)
    if hard:
        yield Line("tool:hammer", "Hammer drill", because(hard))
        yield Line("tool:shroud", "Drill shroud for the vacuum", because(hard))


def bits(load: Load) -> tuple[Line, ...]:
    """Give bits and plugs by what has to be drilled, each with its reason."""
    surfaces = drilled(load)
    open_to_holes = tuple(s for s in surfaces if s.made_of not in UNDRILLED)
    return (
        *_driver_bits(open_to_holes),
        *_bit("wood", "Wood bits, for pilot holes", open_to_holes, WOODEN),
        *_bit("metal", "Metal bits", open_to_holes, frozenset({"board_metal"})),
        *_bit("masonry", "Masonry bits", open_to_holes, MASONRY),
        *_plugs(load, open_to_holes),
        *_bit(
            "plaster",
            "Fine masonry bit for the plaster, hammer off",
            open_to_holes,
            frozenset({"lath"}),
        ),
    )


def _driver_bits(surfaces: tuple[Surface, ...]) -> Iterator[Line]:
    if surfaces:
        yield Line(
            "bit:driver", "Driver bits to suit the screws", "two of each at least"
        )


def _bit(
    key: str, name: str, surfaces: tuple[Surface, ...], kinds: frozenset[str]
) -> Iterator[Line]:
    if wanted := made_of(surfaces, kinds):
        yield Line(f"bit:{key}", name, because(wanted))


def _plugs(load: Load, surfaces: tuple[Surface, ...]) -> Iterator[Line]:
    """Count a plug for each hole that may meet masonry, and one in five to spare."""
    hard = made_of(surfaces, MASONRY)
    places = {(surface.room_id, surface.part) for surface in hard}
    holes = sum(p.holes for p in load.panels if (p.room_id, _part(p)) in places)
    if holes:
        spare = -(-holes // 5)
        yield Line(
            f"bit:plugs:{holes + spare}",
            "Wall plugs to suit the screws",
            f"{counted(holes, 'hole')} in {because(hard)}; {spare} to spare",
            count=str(holes + spare),
        )


def _part(panel: VanPanel) -> str:
    return "ceiling" if panel.holding is Holding.CHAIN else "walls"
