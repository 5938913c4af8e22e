"""Fill: how the depth is shared out, and the pieces each bay takes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from quotes.specs.engine.bench import Bench
from quotes.specs.engine.braces import PlacedBrace
from quotes.specs.engine.errors import Problem, Severity
from quotes.specs.engine.materials import find_fill
from quotes.specs.engine.result import Depths, FillPiece
from quotes.specs.engine.stock import Stock
from quotes.specs.engine.words import Face, Lies, Runs


def share_depth(bench: Bench, placed: tuple[PlacedBrace, ...]) -> Depths:
    """Share the frame's depth: space in front, fill, space behind.

    The fill lies as far forward as its set-back and any flat brace at the front let
    it. What is left before the nearest flat brace behind is slack: depth less fill
    less set-backs less any brace lying flat. Negative slack means that it does not
    fit (see fill_problems). Braces on edge take no depth: the fill is cut round them.
    """
    build, show = bench.build, bench.notation.length
    depth = build.depth_ticks
    flat = [item for item in placed if item.brace.lies is Lies.FLAT]
    front = max(
        [build.fill_setback_front_ticks]
        + [item.back_ticks for item in flat if item.brace.from_face is Face.FRONT]
    )
    limit = min(
        [depth]
        + [item.front_ticks for item in flat if item.brace.from_face is Face.BACK]
    )
    if build.fill is None:
        return Depths(0, 0, depth, depth, "no fill")
    fill = build.fill_layers * find_fill(bench.materials, build.fill).thickness_ticks
    slack = limit - front - fill
    how = (
        f"{show(depth)} − {show(front)} in front − {show(fill)} of fill"
        f" − {show(depth - limit)} behind it = {show(slack)} left"
    )
    return Depths(front, fill, depth - front - fill, slack, how)


def fill_problems(bench: Bench, depths: Depths) -> list[Problem]:
    """Refuse a fill thicker than the depth that the braces leave it."""
    if depths.slack_ticks >= 0:
        return []
    show = bench.notation.length
    most, deep = depths.fill_ticks + depths.slack_ticks, bench.build.depth_ticks
    fits = f"Use fill up to {show(most)} or a" if most > 0 else "Use a"
    return [
        Problem(
            "fill",
            Severity.REFUSE,
            f"The fill is {show(depths.fill_ticks)} thick and {show(max(most, 0))} is"
            f" free. {fits} frame at least {show(deep - depths.slack_ticks)} deep.",
        )
    ]


def fill_pieces(
    bench: Bench, placed: tuple[PlacedBrace, ...], depths: Depths
) -> tuple[FillPiece, ...]:
    """Return the pieces that fill every bay, whole boards first, over all layers."""
    if bench.build.fill is None:
        return ()
    stock = find_fill(bench.materials, bench.build.fill)
    between = [item for item in placed if _divides(item, depths)]
    columns = _bays(bench, between, Runs.UPRIGHT)
    rows = _bays(bench, between, Runs.ACROSS)
    counts: Counter[tuple[int, int]] = Counter()
    for column in columns:
        for row in rows:
            counts.update(_tiles(stock, column, row))
    board = sorted((stock.width_ticks, stock.length_ticks))
    return tuple(
        FillPiece(
            material=stock.key,
            width_ticks=width,
            height_ticks=height,
            thickness_ticks=stock.thickness_ticks,
            count=count * bench.build.fill_layers,
            whole_board=sorted((width, height)) == board,
            how=_how(bench, columns, rows, count),
        )
        for (width, height), count in sorted(counts.items(), reverse=True)
    )


def _how(
    bench: Bench, columns: tuple[int, ...], rows: tuple[int, ...], count: int
) -> str:
    layers = bench.build.fill_layers
    bays = len(columns) * len(rows)
    each = f"{count} in {bays} bays" if bays > 1 else f"{count}"
    return f"{each} × {layers} layers = {count * layers}" if layers > 1 else each


def _divides(item: PlacedBrace, depths: Depths) -> bool:
    """Whether a brace on edge lies at the fill's depth, so that it is cut round it."""
    return (
        item.brace.lies is Lies.ON_EDGE
        and item.front_ticks < depths.air_front_ticks + depths.fill_ticks
        and item.back_ticks > depths.air_front_ticks
    )


def _bays(bench: Bench, between: list[PlacedBrace], runs: Runs) -> tuple[int, ...]:
    """Return the free widths (or heights) that braces on edge leave, oversize added."""
    clear = bench.sizes.clear
    side = (bench.sizes.frame.width_ticks - clear.width_ticks) // 2
    across = runs is Runs.UPRIGHT
    whole = clear.width_ticks if across else clear.height_ticks
    cuts = sorted(
        (item.box.x_ticks if across else item.box.y_ticks, item.extent_ticks)
        for item in between
        if item.brace.runs is runs
    )
    bays, start = [], side
    for at, extent in (*cuts, (side + whole, 0)):
        bays.append(at - start + bench.build.fill_oversize_ticks)
        start = at + extent
    return tuple(bay for bay in bays if bay > 0)


def _tiles(stock: Stock, width: int, height: int) -> Iterable[tuple[int, int]]:
    """Cut a bay from boards, laid the way that takes fewer pieces."""
    ways = [
        [(w, h) for w in _lengths(width, across) for h in _lengths(height, along)]
        for across, along in (
            (stock.width_ticks, stock.length_ticks),
            (stock.length_ticks, stock.width_ticks),
        )
    ]
    return min(ways, key=len)


def _lengths(total: int, board: int) -> list[int]:
    """Return whole boards and the rest; a board of no size has no end (a roll)."""
    if not board or total <= board:
        return [total]
    whole, rest = divmod(total, board)
    return [board] * whole + ([rest] if rest else [])
