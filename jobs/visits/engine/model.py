"""What goes to a site and where to: plain values for van list, order of work, cautions."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum


class Holding(StrEnum):
    """What holds a panel up on site."""

    CLEAT = "cleat"
    CHAIN = "chain"
    EDGE = "edge"
    BATTENS = "battens"
    FEET = "feet"


ON_WALLS = frozenset({Holding.CLEAT, Holding.BATTENS})
DRILLED = ON_WALLS | {Holding.CHAIN}
"""What needs holes in the building."""


@dataclass(frozen=True, slots=True)
class VanItem:
    """Hardware of one panel: how many units are needed, and exactly how many to spare.

    once: it is counted for the whole job, however many panels there are.
    """

    material: str
    name: str
    unit: str
    quantity: Decimal
    spare: Decimal
    once: bool = False


@dataclass(frozen=True, slots=True)
class VanPiece:
    """Wood of one panel that goes on the building: wall cleats, battens."""

    label: str
    length_ticks: int
    count: int


@dataclass(frozen=True, slots=True)
class VanPanel:
    """One panel that goes. holes: in the building. not_ready: why it can't go yet.

    room_id: of its `VanRoom`, since rooms of two sites may share a name.
    """

    code: str
    what: str
    size: str
    room: str
    holding: Holding
    mass_kg: float
    one_person_kg: float
    room_id: str = ""
    holes: int = 0
    items: tuple[VanItem, ...] = ()
    pieces: tuple[VanPiece, ...] = ()
    not_ready: str = ""


@dataclass(frozen=True, slots=True)
class VanRoom:
    """A room that panels go to; empty text is a surface that nobody has looked at."""

    name: str
    walls: frozenset[str] = frozenset({""})
    ceiling: str = ""
    id: str = ""


@dataclass(frozen=True, slots=True)
class Load:
    """Everything that a van list follows from."""

    panels: tuple[VanPanel, ...]
    rooms: tuple[VanRoom, ...]


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the list: key to tick it by, how many, and why it is there.

    The key names the count, too: what was loaded is not enough once more is asked for.
    """

    key: str
    name: str
    why: str = ""
    count: str = ""
    code: str = ""
    warning: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """Lines that are fetched from the same place."""

    key: str
    title: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class VanList:
    """What to load, in the order of loading; groups with nothing in them are left out."""

    version: str
    groups: tuple[Group, ...]

    @property
    def lines(self) -> tuple[Line, ...]:
        """All lines of all groups."""
        return tuple(line for group in self.groups for line in group.lines)
