"""How much of a material some pieces take, before any cut plan is made. Lengths in ticks.

Sheets go by area and the shop's average yield, as prices do. Boards, rolls and slabs are
laid out in a plain way that can be cut as it stands, so that what is bought is enough.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

HUNDRED = Decimal(100)


@dataclass(frozen=True, slots=True)
class Piece:
    """`count` like pieces: `across_ticks` wide, `along_ticks` long.

    Of a sheet or board, along its length; of cloth, along the roll. yield_percent: the
    part of a sheet that ends up in such pieces on average.
    """

    across_ticks: int
    along_ticks: int
    count: int = 1
    yield_percent: Decimal = HUNDRED

    @property
    def area(self) -> int:
        """Area of them all in square ticks."""
        return self.across_ticks * self.along_ticks * self.count


def whole(amount: Decimal) -> int:
    """Round up to whole ones."""
    return int(amount.to_integral_value(ROUND_CEILING))


def more(amount: Decimal, percent: Decimal) -> Decimal:
    """Add a share for waste, or to spare."""
    return amount * (HUNDRED + percent) / HUNDRED


def sheets_for(
    pieces: Iterable[Piece], *, width_ticks: int, length_ticks: int, waste: Decimal
) -> int:
    """Count sheets by area over the average yield, and the waste on top, rounded up once."""
    areas = sum((p.area * HUNDRED / p.yield_percent for p in pieces), Decimal(0))
    return whole(more(areas, waste) / (width_ticks * length_ticks))


def boards_for(
    pieces: Iterable[Piece],
    *,
    width_ticks: int,
    length_ticks: int,
    kerf_ticks: int,
    waste: Decimal,
) -> int | None:
    """Count boards: the longest piece first, each onto the first board with room.

    Strips of one width that lie side by side share their length. Nothing where a piece
    is longer or wider than a board.
    """
    cuts: list[int] = []
    for piece in pieces:
        if piece.along_ticks > length_ticks or piece.across_ticks > width_ticks:
            return None
        abreast = (width_ticks + kerf_ticks) // (piece.across_ticks + kerf_ticks)
        cuts += [piece.along_ticks] * -(-piece.count // abreast)
    left: list[int] = []
    for cut in sorted(cuts, reverse=True):
        at = next((i for i, room in enumerate(left) if room >= cut), None)
        if at is None:
            left.append(length_ticks)
            at = len(left) - 1
        left[at] -= cut + kerf_ticks
    average = more(Decimal(sum(cuts)), waste) / length_ticks
    return max(len(left), whole(average))


def roll_for(pieces: Sequence[Piece], *, usable_ticks: int) -> int | None:
    """Return the length off the roll in ticks: the longest first, each into the first row.

    A row is as long as its first piece. Nothing where a piece is wider than the roll.
    """
    rows: list[int] = []  # width left in each row
    total = 0
    cuts = [(p.along_ticks, p.across_ticks) for p in pieces for _ in range(p.count)]
    for along, across in sorted(cuts, reverse=True):
        if across > usable_ticks:
            return None
        at = next((i for i, room in enumerate(rows) if room >= across), None)
        if at is None:
            rows.append(usable_ticks)
            total += along
            at = len(rows) - 1
        rows[at] -= across
    return total


def slabs_for(
    pieces: Iterable[Piece], *, width_ticks: int, length_ticks: int, waste: Decimal
) -> int:
    """Count slabs of fill: each whole one, the rest by area with the waste on top.

    A piece of more than half a slab takes a slab of its own: two never come out of one.
    """
    area, own, rest = width_ticks * length_ticks, 0, Decimal(0)
    for piece in pieces:
        if piece.count and 2 * piece.area > area * piece.count:
            own += piece.count * -(-piece.area // (area * piece.count))
        else:
            rest += piece.area
    return own + whole(more(rest, waste) / area)
