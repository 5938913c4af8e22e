"""Where each brace lies in the frame, and what it leaves free."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, replace
from fractions import Fraction

from quotes.specs.engine.bench import Bench
from quotes.specs.engine.build import Brace
from quotes.specs.engine.errors import Problem, Severity, TakeoffError
from quotes.specs.engine.geometry import bevel_pair, narrowest_for_pair
from quotes.specs.engine.notation import Notation
from quotes.specs.engine.result import Box, Size
from quotes.specs.engine.sizes import Sizes
from quotes.specs.engine.stock import Stock
from quotes.specs.engine.words import Edge, Face, Lies, Position, Runs

TIGHT = frozenset({Position.TIGHT_TOP, Position.TIGHT_BOTTOM})


@dataclass(frozen=True, slots=True)
class Place:
    """Where a brace's middle lies in the clear opening: share · clear + offset, ticks.

    Kept as a rule rather than a figure, so that a frame too small can be told the
    size that would do.
    """

    share: Fraction
    offset: Fraction

    def low(self, clear_ticks: int, extent_ticks: int) -> int:
        """Return the brace's lower (or left) side in the clear opening."""
        return math.floor(
            self.share * clear_ticks + self.offset - Fraction(extent_ticks, 2)
        )


@dataclass(frozen=True, slots=True)
class PlacedBrace:
    """One brace in its place.

    extent_ticks is what it covers of the dimension it divides. long and short faces
    differ when bevelled; box includes the whole long face.
    """

    brace: Brace
    field: str
    stock: Stock
    place: Place
    extent_ticks: int
    long_ticks: int
    short_ticks: int
    box: Box

    @property
    def length_ticks(self) -> int:
        """Cut length along the grain."""
        if self.brace.runs is Runs.ACROSS:
            return self.box.width_ticks
        return self.box.height_ticks

    @property
    def front_ticks(self) -> int:
        """Depth of its front side behind the frame's front."""
        return self.box.z_ticks

    @property
    def back_ticks(self) -> int:
        """Depth of its back side behind the frame's front."""
        return self.box.z_ticks + self.box.depth_ticks

    def shares_depth_with(self, other: PlacedBrace) -> bool:
        """Whether both lie at the same depth somewhere."""
        return (
            self.front_ticks < other.back_ticks and other.front_ticks < self.back_ticks
        )


def place_braces(bench: Bench) -> tuple[PlacedBrace, ...]:
    """Return every brace that a panel of this size has, across ones first."""
    found: list[PlacedBrace] = []
    for index, brace in enumerate(bench.build.braces):
        if _divided(brace, bench.sizes.frame) > brace.when_over_ticks:
            found += _placed(bench, index)
    across = [item for item in found if item.brace.runs is Runs.ACROSS]
    tight = [item for item in across if item.brace.position in TIGHT]
    upright = [
        _between(item, tight) for item in found if item.brace.runs is Runs.UPRIGHT
    ]
    return (*across, *upright)


def _divided(brace: Brace, size: Size) -> int:
    """Return the dimension that a brace divides, of the frame or of its opening."""
    return size.width_ticks if brace.runs is Runs.UPRIGHT else size.height_ticks


def _placed(bench: Bench, index: int) -> list[PlacedBrace]:
    brace, field = bench.build.braces[index], f"braces[{index}]"
    stock = bench.stock_or_frame(brace.stock, f"{field}.stock")
    long, short = _faces(bench, brace, stock, field)
    flat = brace.lies is Lies.FLAT
    extent = long if flat else stock.thickness_ticks
    deep = stock.thickness_ticks if flat else brace.strip_ticks
    return [
        PlacedBrace(
            brace=brace,
            field=field,
            stock=stock,
            place=place,
            extent_ticks=extent,
            long_ticks=long,
            short_ticks=short,
            box=_box(brace, bench.sizes, place, extent, deep),
        )
        for place in _places(brace, bench.sizes, extent)
    ]


def _faces(bench: Bench, brace: Brace, stock: Stock, field: str) -> tuple[int, int]:
    """Return a brace's long and short face; a square one's are its strip."""
    if brace.edge is Edge.SQUARE:
        return brace.strip_ticks, brace.strip_ticks
    thick, kerf, tilt = stock.thickness_ticks, bench.build.kerf_ticks, brace.bevel_deg
    least = narrowest_for_pair(thick, kerf_ticks=kerf, bevel_deg=tilt)
    if brace.strip_ticks <= least:
        raise TakeoffError(
            f"{field}.strip_ticks",
            f"This strip is too narrow for two bevelled halves: it must be wider than"
            f" {bench.notation.length(least)}.",
        )
    pair = bevel_pair(brace.strip_ticks, thick, kerf_ticks=kerf, bevel_deg=tilt)
    return pair.long_ticks, pair.short_ticks


def _places(brace: Brace, sizes: Sizes, extent_ticks: int) -> tuple[Place, ...]:
    half = Fraction(extent_ticks, 2)
    if brace.position is Position.SPREAD:
        return _spread(brace, sizes, extent_ticks)
    return (
        {
            Position.TIGHT_TOP: Place(Fraction(1), -half),
            Position.TIGHT_BOTTOM: Place(Fraction(0), half),
            Position.CENTRE: Place(Fraction(1, 2), Fraction(0)),
            Position.FRACTION: Place(Fraction(brace.fraction), Fraction(0)),
        }[brace.position],
    )


def _spread(brace: Brace, sizes: Sizes, extent_ticks: int) -> tuple[Place, ...]:
    """As many as keep bays within the span: n = ⌈(clear − span) / (span + extent)⌉."""
    clear = _divided(brace, sizes.clear)
    span = brace.max_span_ticks
    count = max(0, math.ceil(Fraction(clear - span, span + extent_ticks)))
    return tuple(
        Place(
            Fraction(i, count + 1),
            extent_ticks * (i - Fraction(1, 2) - Fraction(i * count, count + 1)),
        )
        for i in range(1, count + 1)
    )


def _box(brace: Brace, sizes: Sizes, place: Place, extent: int, deep: int) -> Box:
    side = (sizes.frame.width_ticks - sizes.clear.width_ticks) // 2
    front = brace.setback_ticks
    if brace.from_face is Face.BACK:
        front = sizes.frame.depth_ticks - brace.setback_ticks - deep
    if brace.runs is Runs.ACROSS:
        low = side + place.low(sizes.clear.height_ticks, extent)
        return Box(side, low, front, sizes.clear.width_ticks, extent, deep)
    low = side + place.low(sizes.clear.width_ticks, extent)
    return Box(low, side, front, extent, sizes.clear.height_ticks, deep)


def _between(upright: PlacedBrace, tight: list[PlacedBrace]) -> PlacedBrace:
    """Shorten an upright to stop at the tight braces it would run into."""
    box = upright.box
    low, high = box.y_ticks, box.y_ticks + box.height_ticks
    for item in tight:
        if not item.shares_depth_with(upright):
            continue
        if item.brace.position is Position.TIGHT_TOP:
            high = min(high, item.box.y_ticks)
        else:
            low = max(low, item.box.y_ticks + item.box.height_ticks)
    return replace(upright, box=replace(box, y_ticks=low, height_ticks=high - low))


def brace_problems(
    placed: tuple[PlacedBrace, ...], sizes: Sizes, notation: Notation
) -> list[Problem]:
    """Refuse braces deeper than the frame, outside the opening, or in each other's way."""
    problems = [
        problem
        for item in placed
        for problem in (
            *_too_deep(item, sizes),
            *_outside(item, sizes, notation),
            *_squeezed(item, sizes, notation),
        )
    ]
    problems += [
        _conflict(first, second, sizes, notation)
        for first, second in itertools.combinations(placed, 2)
        if first.shares_depth_with(second) and _meet(first.box, second.box)
    ]
    return problems


def _too_deep(item: PlacedBrace, sizes: Sizes) -> list[Problem]:
    if item.front_ticks >= 0 and item.back_ticks <= sizes.frame.depth_ticks:
        return []
    return [
        Problem(
            f"{item.field}.setback_ticks",
            Severity.REFUSE,
            f"{item.brace.name} does not fit in the frame's depth: make its strip or"
            " set-back smaller, or the frame deeper.",
        )
    ]


def _outside(item: PlacedBrace, sizes: Sizes, notation: Notation) -> list[Problem]:
    across = item.brace.runs is Runs.ACROSS
    clear = sizes.clear.height_ticks if across else sizes.clear.width_ticks
    low = item.place.low(clear, item.extent_ticks)
    if low >= 0 and low + item.extent_ticks <= clear:
        return []
    ends = [Fraction(item.extent_ticks)]
    if item.place.share:
        ends.append(
            (Fraction(item.extent_ticks, 2) - item.place.offset) / item.place.share
        )
    if item.place.share != 1:
        rest = Fraction(item.extent_ticks, 2) + item.place.offset
        ends.append(rest / (1 - item.place.share))
    return [_too_small(item, sizes, notation, max(ends))]


def _squeezed(item: PlacedBrace, sizes: Sizes, notation: Notation) -> list[Problem]:
    if item.length_ticks > 0:
        return []
    least = notation.length(sizes.nominal.height_ticks - item.length_ticks)
    return [
        Problem(
            "height_ticks",
            Severity.REFUSE,
            f"No room is left for {item.brace.name} between the tight braces:"
            f" make it more than {least}.",
        )
    ]


def _too_small(
    item: PlacedBrace, sizes: Sizes, notation: Notation, clear_ticks: Fraction
) -> Problem:
    """Say what the dimension would have to be for the clear opening to be so wide."""
    across = item.brace.runs is Runs.ACROSS
    field = "height_ticks" if across else "width_ticks"
    lost = getattr(sizes.nominal, field) - getattr(sizes.clear, field)
    least = notation.length(math.ceil(clear_ticks) + lost)
    return Problem(
        field,
        Severity.REFUSE,
        f"Too small for its own braces ({item.brace.name}): make it {least} or more.",
    )


def _meet(first: Box, second: Box) -> bool:
    return (
        first.x_ticks < second.x_ticks + second.width_ticks
        and second.x_ticks < first.x_ticks + first.width_ticks
        and first.y_ticks < second.y_ticks + second.height_ticks
        and second.y_ticks < first.y_ticks + first.height_ticks
    )


def _conflict(
    first: PlacedBrace, second: PlacedBrace, sizes: Sizes, notation: Notation
) -> Problem:
    low, high = sorted(
        (first, second), key=lambda item: (item.place.share, item.place.offset)
    )
    apart = Fraction(first.extent_ticks + second.extent_ticks, 2)
    shares = high.place.share - low.place.share
    if first.brace.runs is second.brace.runs and shares:
        clear = (apart + low.place.offset - high.place.offset) / shares
        return _too_small(high, sizes, notation, clear)
    return Problem(
        f"{second.field}.setback_ticks",
        Severity.REFUSE,
        f"{first.brace.name} and {second.brace.name} run into each other: move one,"
        " or set one back from the other.",
    )
