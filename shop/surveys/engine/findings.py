"""What a check finds, and the sentence that tells it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

VERSION = "findings-1"

WORDS = {
    "closing": "The walls don’t close: the walk ends {0} from where it began, {other} of"
    " the round. Read {wall} again first, the longest before the others.",
    "turns": "The corners don’t make one round: they turn by {other} in all, where it"
    " should be 360°. One of them is put in the wrong way, or a wall is missing.",
    "angles": "The corners turn by {other} in all, where it should be 360°. Measure the"
    " angles or diagonals again.",
    "crosses": "Wall {wall} and wall {other} cross. Look at the corners between them.",
    "tie": "The diagonal over the corner after wall {wall} can’t be: no triangle has such"
    " sides. Read it and both walls again.",
    "heights": "The ceiling is {0} high in one place and {1} in another. Read both again,"
    " or note that it slopes.",
    "wider": "{name} is {0} wide, but wall {wall} is {1} long.",
    "beyond": "{name} reaches {0} from the left corner, but wall {wall} is {1} long.",
    "overlap": "{name} and {other} overlap on wall {wall}.",
    "above": "{name} reaches {0} above the floor, but the ceiling is at {1}.",
    "low_door": "{name} is only {0} high. Is that a door one walks through?",
    "widths": "The widths of {name} differ by {0}. Read them again, or expect a gap.",
    "high": "The heights of {name} differ by {0}. Read them again, or expect a gap.",
    "square": "The diagonals of {name} differ by {0}: it is out of square.",
    "diagonals": "The diagonals of {name} don’t belong to its width and height: they"
    " should be near {0}.",
    "read_more": "{name} gets a panel: read width and height three times each, and the"
    " diagonals where you can.",
    "zone_beyond": "{name} reaches {0} from the left corner, but wall {wall} is {1} long.",
    "zone_outside": "{name} on the ceiling reaches beyond the walls.",
    "zone_above": "{name} reaches {0} above the floor, but the ceiling is at {1}.",
    "margin": "{name} on wall {wall} wants {0} clear all round: that reaches into {other},"
    " which gets a panel.",
    "reveal": "The reveal of {name} is {0} deep, but its panel is to sit {1} deep.",
    "stud_beyond": "A stud was found {0} from the left corner, but wall {wall} is {1} long.",
    "joist_beyond": "A joist was found {0} out, but the room is {1} that way.",
    "studs_apart": "Two studs in wall {wall} are {0} apart, where framing is noted every {1}."
    " Find both again, or note the other spacing.",
    "joists_apart": "Two joists are {0} apart, where framing is noted every {1}. Find both"
    " again, or note the other spacing.",
}
"""The sentence of each finding; numbers stand for its lengths."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that can't be so: names, and lengths in ticks, for its sentence."""

    key: str
    name: str = ""
    amounts_ticks: tuple[int, ...] = ()
    wall: str = ""
    other: str = ""

    def sentence(self, show: Callable[[int], str]) -> str:
        """Say it, lengths printed by `show`."""
        shown = (show(ticks) for ticks in self.amounts_ticks)
        words = WORDS[self.key].format(
            *shown, name=self.name, wall=self.wall, other=self.other
        )
        return words[:1].upper() + words[1:]


def fixed(number: float, places: int) -> str:
    """Print decimals, halves up: as devices do, which say the same with no network."""
    return f"{Decimal(number).quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP):f}"


def listed(names: list[str]) -> str:
    """Write wall names in a row: wall A; walls A and C; walls A, C and E."""
    if len(names) == 1:
        return f"wall {names[0]}"
    return f"walls {', '.join(names[:-1])} and {names[-1]}"


def sentences(
    findings: Iterable[Finding], show: Callable[[int], str]
) -> tuple[str, ...]:
    """Say each finding, lengths printed by `show`."""
    return tuple(finding.sentence(show) for finding in findings)
