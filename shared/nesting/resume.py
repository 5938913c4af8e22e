"""An earlier plan as a beginning: what of it still holds, filled up with what is missing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from shared.nesting.core import Core, Cut, Filled, Lane, merged
from shared.nesting.firstfit import first_fit


@dataclass(frozen=True, slots=True)
class Given:
    """``count`` plates of a stock, each with strips of these options."""

    stock: int
    strips: tuple[tuple[int, ...], ...]
    count: int


def resumed(core: Core, given: Iterable[Given]) -> list[Filled] | None:
    """Return a plan for all parts that begins with these plates, or None.

    Pieces nobody wants any more, strips that fit no longer and plates beyond the
    stock are left out; first-fit places what is missing then.
    """
    residual = list(core.demand)
    left = [stock.limit for stock in core.stocks]
    begun: list[Filled] = []
    for plate in given:
        for _ in range(plate.count):
            limit = left[plate.stock]
            cuts = _cuts(core, plate, residual) if limit != 0 else ()
            if cuts:
                left[plate.stock] = None if limit is None else limit - 1
                begun.append(Filled(plate.stock, cuts, 1))
    begun = merged(begun)
    return first_fit(core, residual, begun) if any(residual) else begun


def _cuts(core: Core, plate: Given, residual: list[int]) -> tuple[Cut, ...]:
    """Return the strips of a plate that hold, counting residual down."""
    stock, cuts = core.stocks[plate.stock], []
    room = stock.width + core.kerf
    for strip in plate.strips:
        wanted = _wanted(core, strip, residual)
        if not wanted:
            continue
        width = max(core.options[o].across for o in wanted)
        lane = Lane(stock.length, width)
        used = sum(core.options[o].along + core.kerf for o in wanted)
        if (
            width + core.kerf > room
            or used > stock.length + core.kerf
            or not all(core.fits(core.options[o], lane) for o in wanted)
        ):
            continue
        room -= width + core.kerf
        for option in wanted:
            residual[core.options[option].item] -= 1
        cuts.append(Cut(core.lane_at[lane], tuple(sorted(Counter(wanted).items()))))
    return tuple(sorted(cuts, key=lambda c: -core.lanes[c.lane].width))


def _wanted(core: Core, strip: Sequence[int], residual: Sequence[int]) -> list[int]:
    """Return the pieces of a strip that are still wanted."""
    wanted: list[int] = []
    taken: Counter[int] = Counter()
    for option in strip:
        item = core.options[option].item
        if taken[item] < residual[item]:
            taken[item] += 1
            wanted.append(option)
    return wanted
