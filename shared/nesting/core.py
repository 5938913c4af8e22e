"""The one problem behind bars and sheets: strips from plates, pieces from strips.

A bar is a plate as wide as its only strip. All sizes are ticks; prices are whole numbers
for each plate. With kerf k, pieces a₁…aₙ fit a strip of length L when Σ(aᵢ + k) ≤ L + k:
the kerf is counted with each piece, and the room has one more [D: one cut between every
two pieces; n = floor((L + k) / (a + k)) for equal ones].
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from math import ceil, gcd


@dataclass(frozen=True, slots=True)
class Option:
    """One way a part may lie: ``along`` its strip and ``across`` it."""

    item: int
    along: int
    across: int
    turned: bool


@dataclass(frozen=True, slots=True)
class Stock:
    """A kind of plate; ``limit`` is in plates, ``per_sheet`` of which are bought at once."""

    length: int
    width: int
    price: int
    limit: int | None
    per_sheet: int = 1


@dataclass(frozen=True, slots=True)
class Lane:
    """The strips of one width from plates of one length."""

    length: int
    width: int


@dataclass(frozen=True, slots=True)
class Cut:
    """A strip of a lane with its pieces: option and count."""

    lane: int
    pieces: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Stack:
    """A plate with its strips: lane and count."""

    stock: int
    lanes: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Filled:
    """``count`` plates of a stock with these strips."""

    stock: int
    cuts: tuple[Cut, ...]
    count: int


@dataclass(frozen=True)
class Core:
    """The problem. ``exact`` means that a strip is as wide as each of its pieces."""

    options: tuple[Option, ...]  # sorted by across
    demand: tuple[int, ...]
    stocks: tuple[Stock, ...]
    kerf: int
    exact: bool

    @cached_property
    def lanes(self) -> tuple[Lane, ...]:
        """Return every lane that some option fills, by length and then width."""
        widest: dict[int, int] = {}
        for stock in self.stocks:
            widest[stock.length] = max(stock.width, widest.get(stock.length, 0))
        return tuple(
            Lane(length, width)
            for length in sorted(widest)
            for width in sorted({o.across for o in self.options if o.along <= length})
            if width <= widest[length]
        )

    @cached_property
    def lane_at(self) -> dict[Lane, int]:
        """Return each lane's index."""
        return {lane: index for index, lane in enumerate(self.lanes)}

    @cached_property
    def step(self) -> int:
        """Return what every price is a multiple of, in internal units."""
        return gcd(*(s.price * s.per_sheet for s in self.stocks)) or 1

    @cached_property
    def is_flat(self) -> bool:
        """Tell whether each plate is one strip, as with bars."""
        narrowest = self.options[0].across
        return all(2 * narrowest + self.kerf > stock.width for stock in self.stocks)

    def fits(self, option: Option, lane: Lane) -> bool:
        """Tell whether a piece may lie in a strip."""
        if option.along > lane.length or option.across > lane.width:
            return False
        return option.across == lane.width or not self.exact

    def price(self, plan: Iterable[Filled]) -> int:
        """Return what the plates cost, sheets bought whole."""
        used: Counter[int] = Counter()
        for filled in plan:
            used[filled.stock] += filled.count
        return sum(
            -(-count // self.stocks[s].per_sheet)
            * self.stocks[s].price
            * self.stocks[s].per_sheet
            for s, count in used.items()
        )

    def rounded(self, bound: Fraction) -> int:
        """Raise a bound to the next price that can be."""
        return ceil(bound / self.step) * self.step

    def material_bound(self) -> int:
        """Return what the material alone must cost, each piece and plate with one kerf.

        Valid for any plan: pieces with a kerf on two sides don't overlap in a plate
        enlarged by one kerf in each direction.
        """
        k = self.kerf
        least = [0] * len(self.demand)
        for option in self.options:
            least[option.item] = (option.along + k) * (option.across + k)
        need = sum(a * d for a, d in zip(least, self.demand, strict=True))
        cost = Fraction(0)
        areas = {s: (s.length + k) * (s.width + k) for s in self.stocks}
        for stock in sorted(self.stocks, key=lambda s: Fraction(s.price, areas[s])):
            part = (
                min(need, areas[stock] * stock.limit)
                if stock.limit is not None
                else need
            )
            cost += Fraction(part * stock.price, areas[stock])
            need -= part
        return self.rounded(cost)


def merged(plan: Iterable[Filled]) -> list[Filled]:
    """Put plates that are cut alike together."""
    alike: Counter[tuple[int, tuple[Cut, ...]]] = Counter()
    for filled in plan:
        alike[filled.stock, filled.cuts] += filled.count
    return [Filled(stock, cuts, count) for (stock, cuts), count in alike.items()]


def without_surplus(core: Core, cuts: Mapping[Cut, int]) -> Counter[Cut]:
    """Take out pieces nobody wants, and narrow or drop the strips they leave."""
    surplus = [-d for d in core.demand]
    for cut, count in cuts.items():
        for option, times in cut.pieces:
            surplus[core.options[option].item] += times * count
    kept: Counter[Cut] = Counter()
    for cut, count in sorted(cuts.items(), key=lambda c: -core.lanes[c[0].lane].width):
        if all(surplus[core.options[o].item] <= 0 for o, _ in cut.pieces):
            kept[_narrowed(core, cut.lane, cut.pieces)] += count
            continue
        for _ in range(count):
            if lean := _lean(core, cut, surplus):
                kept[lean] += 1
    return kept


def _lean(core: Core, cut: Cut, surplus: list[int]) -> Cut | None:
    """Take out of one strip what is surplus, and count that down."""
    left: list[tuple[int, int]] = []
    for option, times in cut.pieces:
        item = core.options[option].item
        less = min(times, max(0, surplus[item]))
        surplus[item] -= less
        if times > less:
            left.append((option, times - less))
    if not left:
        return None
    return _narrowed(core, cut.lane, tuple(left))


def _narrowed(core: Core, lane: int, pieces: tuple[tuple[int, int], ...]) -> Cut:
    """Return a strip that is no wider than its widest piece."""
    width = max(core.options[option].across for option, _ in pieces)
    return Cut(core.lane_at[Lane(core.lanes[lane].length, width)], pieces)
