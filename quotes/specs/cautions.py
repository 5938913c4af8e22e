"""The bench's cautions: what the takeoff names by key, in words.

They defer to the machine's own manual and to local rules. Sources: 29 CFR 1910.213
(saw), NIOSH 2011-202 (nailer), NIOSH pocket guide (wood dust), OSHA and NIOSH pages on
mineral wool fibre, NIOSH 94-110 (lift); the bevel is common practice.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: a short title and what to do."""

    key: str
    title: str
    text: str


BENCH_CAUTIONS: dict[str, Caution] = {
    each.key: each
    for each in (
        Caution(
            "saw",
            "Saw",
            "Keep the guard and the riving knife or spreader on, use a push stick near"
            " the blade, stand out of the kickback line.",
        ),
        Caution(
            "bevel",
            "Tilted rip",
            "Check that the guard clears at the tilt; leave the narrow offcut free,"
            " never trapped between fence and tilted blade.",
        ),
        Caution(
            "nailer",
            "Nailer and stapler",
            "Single-shot trigger, the holding hand well clear, eye and ear protection;"
            " unhook the air before clearing a jam.",
        ),
        Caution(
            "wooddust",
            "Wood dust",
            "Collect it at the tool; wear a mask when sanding.",
        ),
        Caution(
            "fibre",
            "Wool fibre",
            "Gloves, long sleeves, goggles and a dust mask; cut it with a knife, not a"
            " power saw; wash work clothes apart.",
        ),
        Caution(
            "lift",
            "Lifting",
            "Two people or a panel lift: this is more than one person should carry.",
        ),
    )
}


def cautions_for(keys: Iterable[str]) -> tuple[Caution, ...]:
    """Return the cautions named, each once, in the order of the bench."""
    wanted = set(keys)
    if unknown := wanted - set(BENCH_CAUTIONS):
        raise KeyError(f"no words for the caution {sorted(unknown)[0]}")
    return tuple(c for key, c in BENCH_CAUTIONS.items() if key in wanted)
