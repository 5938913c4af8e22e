"""Rows and rolls of cells, as the search holds them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from shared.nesting.rolls.table import Table


@dataclass(frozen=True, slots=True)
class Spot:
    """An option where its cell lies in its row."""

    option: int
    x: int
    y: int


@dataclass(frozen=True, slots=True)
class Level:
    """A row: its length in cells, its slack, what lies in it, and the cells' area."""

    length: int
    slack: int
    spots: tuple[Spot, ...]
    area: int


@dataclass(slots=True)
class Bin:
    """One roll with its rows."""

    kind: int
    levels: list[Level] = field(default_factory=list)

    def length(self) -> int:
        """Return what the rows take, in ticks of roll; the last has the most slack."""
        if not self.levels:
            return 0
        cells = sum(level.length for level in self.levels)
        return cells - max(level.slack for level in self.levels)


def level_of(table: Table, spots: Sequence[Spot], length: int) -> Level:
    """Return a row of these spots."""
    options = table.options
    end = max(s.y + options[s.option].along - options[s.option].slack for s in spots)
    area = sum(options[s.option].area for s in spots)
    return Level(length, length - end, tuple(spots), area)


def parted(table: Table, level: Level) -> list[Level]:
    """Return a row as several where it can be cut across without meeting a piece."""
    rows: list[Level] = []
    begun, end = 0, 0
    mine: list[Spot] = []
    for spot in sorted(level.spots, key=lambda spot: (spot.y, spot.x)):
        if mine and spot.y >= end:
            rows.append(level_of(table, mine, spot.y - begun))
            begun, mine = spot.y, []
        mine.append(Spot(spot.option, spot.x, spot.y - begun))
        end = max(end, spot.y + table.options[spot.option].along)
    return [*rows, level_of(table, mine, level.length - begun)]
