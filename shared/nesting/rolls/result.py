"""Roll plans: rows in cutting order, pieces where they lie, what to buy, what is left.

Places are in ticks: x across, from the edge next to the selvedge; y along, from the
beginning of the roll as it is, before it is squared.
"""

from __future__ import annotations

import enum
from dataclasses import dataclass
from fractions import Fraction

from shared.nesting.result import Verdict


class Way(enum.StrEnum):
    """Which way a cut goes."""

    ACROSS = "across"  # from edge to edge, at a y
    ALONG = "along"  # the way the roll runs, at an x


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece where it lies. ``copy`` counts a part's pieces, ``drop`` a piece's drops."""

    part: str
    copy: int
    drop: int
    x_ticks: int
    y_ticks: int
    across_ticks: int
    along_ticks: int
    turned: bool
    for_repairs: bool


@dataclass(frozen=True, slots=True)
class Cut:
    """One cut with the shears, at ``at_ticks``, from edge to edge of what is in hand.

    ``depth`` 1 frees the row; each further depth cuts what the one before has freed.
    """

    way: Way
    at_ticks: int
    from_ticks: int
    to_ticks: int
    depth: int


@dataclass(frozen=True, slots=True)
class Scrap:
    """A rectangle that is left, where it lies."""

    x_ticks: int
    y_ticks: int
    across_ticks: int
    along_ticks: int


@dataclass(frozen=True, slots=True)
class Row:
    """What is pulled and cut off at once, ``at_ticks`` from the beginning of the roll.

    ``cuts`` are in cutting order and begin with the one that frees the row.
    """

    at_ticks: int
    along_ticks: int
    pieces: tuple[Placed, ...]
    cuts: tuple[Cut, ...]
    scraps: tuple[Scrap, ...]

    @property
    def depth(self) -> int:
        """Return in how many stages the row is cut, freeing it included."""
        return max(cut.depth for cut in self.cuts)


@dataclass(frozen=True, slots=True)
class RollUse:
    """One roll and what is cut from it. ``number`` tells rolls of one key apart.

    ``cut_ticks`` is what goes off the roll, its trimmed end included; ``spare_ticks`` the
    share for flaws on top. ``buy_ticks`` is both, 0 where the roll is there.
    ``left_ticks`` stays on the roll after the cuts (the spare is still on it),
    None where it is bought by length.
    """

    roll: str
    number: int
    lot: str
    usable_ticks: int
    selvedge_ticks: int
    trim_ticks: int
    rows: tuple[Row, ...]
    cut_ticks: int
    spare_ticks: int
    buy_ticks: int
    left_ticks: int | None
    cost: Fraction

    @property
    def pieces(self) -> tuple[Placed, ...]:
        """Return every piece of every row."""
        return tuple(piece for row in self.rows for piece in row.pieces)

    def worth_keeping(self, across_ticks: int, along_ticks: int) -> tuple[Scrap, ...]:
        """Return the scraps of at least this size, as they lie."""
        return tuple(
            scrap
            for row in self.rows
            for scrap in row.scraps
            if scrap.across_ticks >= across_ticks and scrap.along_ticks >= along_ticks
        )


@dataclass(frozen=True, slots=True)
class RollPlan:
    """All rolls of a job, in the order in which they are cut.

    ``verdict`` is in prices times ticks: with one roll at price 1 it is the length cut
    in ticks; divided by the job's ``price_ticks`` it is money. ``cost`` is that money,
    spare not counted. ``yield_share`` is what ends up in parts, from 0 to 1, of the cut
    length between the selvedges.
    """

    rolls: tuple[RollUse, ...]
    verdict: Verdict
    yield_share: float
    warnings: tuple[str, ...]

    @property
    def cut_ticks(self) -> int:
        """Return the length that is cut off all rolls."""
        return sum(use.cut_ticks for use in self.rolls)

    @property
    def buy_ticks(self) -> int:
        """Return the length to buy, spare included; the caller rounds it."""
        return sum(use.buy_ticks for use in self.rolls)

    @property
    def cost(self) -> Fraction:
        """Return what the cloth cut costs, in the unit of the prices, exact."""
        return sum((use.cost for use in self.rolls), Fraction(0))

    @property
    def lots(self) -> tuple[str, ...]:
        """Return the dye lots used, each once."""
        return tuple(dict.fromkeys(use.lot for use in self.rolls))

    @property
    def gap_share(self) -> float:
        """Return by what share of the bound the plan may be too dear, 0 if proven."""
        bound = self.verdict.lower_bound
        return (self.verdict.price - bound) / bound if bound else 0.0
