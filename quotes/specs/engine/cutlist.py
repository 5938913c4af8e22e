"""From takeoffs to what is cut of each stock: equal pieces together, owners kept (pure).

A piece lies along the grain. A cleat pair is one blank: a strip that one tilted rip
cuts into a panel cleat and its mate on the wall (FACTS-materials, section 2.2).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from operator import attrgetter

from quotes.specs.engine.model import Blank, EndCut, PartRole, Takeoff, WoodPart
from shared.length import UnitSystem, show_exact


@dataclass(frozen=True, slots=True)
class Wanted:
    """Panels that are made alike, each by whatever name the caller knows it."""

    takeoff: Takeoff
    panels: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Mate:
    """What the other half of a pair is crosscut to, for one panel in all."""

    label: str
    length_ticks: int
    count: int


@dataclass(frozen=True, slots=True)
class Share:
    """How many of a part's pieces one panel gets, and as what."""

    panel: str
    label: str
    count: int
    mates: tuple[Mate, ...] = ()


@dataclass(frozen=True, slots=True)
class CutPart:
    """Pieces of one size from one stock; lengths in ticks, along the grain.

    ``key`` names it the same way in every plan, for people too. A pair's pieces are
    blanks: two parts each. ``bevel_deg`` without a pair is one tilted long edge;
    ``long_face_ticks`` and ``short_face_ticks`` are what each part then has across.
    """

    key: str
    stock: str
    label: str
    width_ticks: int
    length_ticks: int
    thickness_ticks: int
    count: int
    shares: tuple[Share, ...]
    bevel_deg: float = 0.0
    is_pair: bool = False
    long_face_ticks: int = 0
    short_face_ticks: int = 0

    @property
    def parts_each(self) -> int:
        """How many parts one piece becomes by a tilted rip."""
        return 2 if self.is_pair else 1


# What makes two pieces equal: stock, width, length, tilt, pair, and thickness if tilted.
_Size = tuple[str, int, int, float, bool, int]


def cut_list(wanted: Iterable[Wanted], *, units: UnitSystem) -> tuple[CutPart, ...]:
    """Return every wood part of some panels by stock and size, the widest first.

    Parameters
    ----------
    wanted : panels with the takeoff of one of them; units : how keys print sizes.
    """
    firsts: dict[_Size, tuple[WoodPart, Blank]] = {}
    shares: dict[_Size, list[Share]] = {}
    for group in wanted:
        found = tuple(_pieces(group.takeoff))
        for size, part, blank, mates in found:
            firsts.setdefault(size, (part, blank))
            shares.setdefault(size, []).extend(
                Share(panel, _name(part), blank.count, mates) for panel in group.panels
            )
    parts = (
        _part(size, *first, tuple(shares[size]), units)
        for size, first in firsts.items()
        if shares[size]
    )
    return tuple(sorted(parts, key=_widest_first))


def _widest_first(part: CutPart) -> tuple[str, int, int, str]:
    return part.stock, -part.width_ticks, -part.length_ticks, part.key


def _pieces(
    takeoff: Takeoff,
) -> Iterator[tuple[_Size, WoodPart, Blank, tuple[Mate, ...]]]:
    """Yield each blank with the part that it is named after, and what its mate gives."""
    own = [part for part in takeoff.parts if part.role is not PartRole.WALL_CLEAT]
    walls = iter(takeoff.parts_of(PartRole.WALL_CLEAT))
    for part, blank in zip(own, takeoff.blanks, strict=True):
        pair = part.role is PartRole.PANEL_CLEAT
        # wall cleats stand in the order of the braces that they are the mates of
        mates = tuple(next(walls) for _ in range(part.count)) if pair else ()
        thickness = part.thickness_ticks if part.bevel_deg else 0
        size = (
            part.stock,
            blank.rip_width_ticks,
            blank.length_ticks,
            part.bevel_deg,
            pair,
            thickness,
        )
        yield size, part, blank, _together(mates)


def _together(mates: Iterable[WoodPart]) -> tuple[Mate, ...]:
    counts: dict[tuple[str, int], int] = {}
    for mate in mates:
        key = mate.label, mate.cut_length_ticks
        counts[key] = counts.get(key, 0) + mate.count
    return tuple(Mate(label, length, n) for (label, length), n in counts.items())


_ENDS = {EndCut.SQUARE: "", EndCut.MITRE: ", mitred", EndCut.HALF_LAP: ", lapped"}


def _name(part: WoodPart) -> str:
    return f"{part.label.replace('_', ' ')}{_ENDS[part.end]}"


def _part(
    size: _Size,
    part: WoodPart,
    blank: Blank,
    shares: tuple[Share, ...],
    units: UnitSystem,
) -> CutPart:
    stock, width, length, bevel, pair, _ = size
    labels = dict.fromkeys(map(attrgetter("label"), shares))
    return CutPart(
        key=_key(size, units),
        stock=stock,
        label=", ".join(labels),
        width_ticks=width,
        length_ticks=length,
        thickness_ticks=part.thickness_ticks,
        count=sum(share.count for share in shares),
        shares=shares,
        bevel_deg=bevel,
        is_pair=pair,
        long_face_ticks=part.long_face_ticks,
        short_face_ticks=part.short_face_ticks,
    )


def _key(size: _Size, units: UnitSystem) -> str:
    """Name a size exactly: 1170 × 100 mm, 1100 × 150 mm 45° pair."""
    _, width, length, bevel, pair, thickness = size
    sides = [show_exact(side, units=units, feet=False) for side in (length, width)]
    sides[0] = sides[0].removesuffix(" mm")
    if not bevel:
        return " × ".join(sides)
    thick = show_exact(thickness, units=units)
    return f"{' × '.join(sides)} {bevel:g}° {'pair' if pair else 'edge'}, {thick}"
