"""Every piece of wood, and the strips it is ripped and crosscut from."""

from __future__ import annotations

from dataclasses import replace

from quotes.specs.engine.bench import Bench
from quotes.specs.engine.braces import PlacedBrace
from quotes.specs.engine.geometry import evenly, halved, rips_from_width, rise_ticks
from quotes.specs.engine.result import Blank, Box, HangPlan, Point, WoodPart
from quotes.specs.engine.stock import Stock
from quotes.specs.engine.words import (
    Edge,
    EndCut,
    Hanging,
    Joint,
    PartRole,
    Runs,
    Through,
)


def wood_parts(
    bench: Bench, placed: tuple[PlacedBrace, ...], plan: HangPlan
) -> tuple[WoodPart, ...]:
    """Return every part: frame, braces, cleats, then what the hanging asks for."""
    return (
        *frame_parts(bench),
        *_brace_parts(bench, placed),
        *_wall_cleats(bench, placed, plan),
        *_blocks(bench, plan),
        *_battens(bench),
        *_feet(bench),
    )


def frame_parts(bench: Bench) -> tuple[WoodPart, WoodPart]:
    """Return the two rails and the two stiles.

    Butt: the through pair at full length, the other less both its thicknesses.
    Mitre and half-lap: all four at full length; a mitred part's inside is shorter by
    two thicknesses.
    """
    build, frame, clear = bench.build, bench.sizes.frame, bench.sizes.clear
    side = (frame.width_ticks - clear.width_ticks) // 2
    butt = build.joint is Joint.BUTT
    short_rail = butt and build.through is Through.HEIGHT
    short_stile = butt and build.through is Through.WIDTH
    rail = _member(bench, PartRole.RAIL, frame.width_ticks, between=short_rail)
    stile = _member(bench, PartRole.STILE, frame.height_ticks, between=short_stile)
    x, y = (side if short_rail else 0), (side if short_stile else 0)
    depth = frame.depth_ticks
    rails = tuple(
        Box(x, at, 0, rail.cut_length_ticks, side, depth)
        for at in (0, frame.height_ticks - side)
    )
    stiles = tuple(
        Box(at, y, 0, side, stile.cut_length_ticks, depth)
        for at in (0, frame.width_ticks - side)
    )
    return replace(rail, places=rails), replace(stile, places=stiles)


def _member(
    bench: Bench, role: PartRole, outside_ticks: int, *, between: bool
) -> WoodPart:
    build, stock = bench.build, bench.frame_stock
    side = stock.thickness_ticks
    length = outside_ticks - 2 * side if between else outside_ticks
    long = short = build.depth_ticks
    bevel = build.stile_bevel_deg if role is PartRole.STILE else 0.0
    if bevel:
        short = long - rise_ticks(side, bevel)
    return WoodPart(
        role=role,
        label=str(role),
        stock=stock.key,
        rip_width_ticks=long,
        cut_length_ticks=length,
        thickness_ticks=side,
        count=2,
        how=_less(bench, outside_ticks, 2 if between else 0, side),
        end=_END_OF[build.joint],
        inside_length_ticks=outside_ticks - 2 * side
        if build.joint is Joint.MITRE
        else length,
        bevel_deg=bevel,
        long_face_ticks=long,
        short_face_ticks=short,
        runs=Runs.ACROSS if role is PartRole.RAIL else Runs.UPRIGHT,
    )


_END_OF = {
    Joint.BUTT: EndCut.SQUARE,
    Joint.MITRE: EndCut.MITRE,
    Joint.HALF_LAP: EndCut.HALF_LAP,
}


def _less(bench: Bench, outside_ticks: int, count: int, side_ticks: int) -> str:
    show = bench.notation.length
    if not count:
        return f"full outside size, {show(outside_ticks)}"
    left = show(outside_ticks - count * side_ticks)
    return f"{show(outside_ticks)} − {count} × {show(side_ticks)} = {left}"


def _brace_parts(bench: Bench, placed: tuple[PlacedBrace, ...]) -> tuple[WoodPart, ...]:
    """Return the braces, like ones together (the same brace, spread, is one line)."""
    groups: dict[tuple[str, int], list[PlacedBrace]] = {}
    for item in placed:
        groups.setdefault((item.field, item.length_ticks), []).append(item)
    return tuple(_brace_part(bench, group) for group in groups.values())


def _brace_part(bench: Bench, group: list[PlacedBrace]) -> WoodPart:
    first = group[0]
    across = first.brace.runs is Runs.ACROSS
    frame, clear = bench.sizes.frame, bench.sizes.clear
    outside = frame.width_ticks if across else frame.height_ticks
    inside = clear.width_ticks if across else clear.height_ticks
    how = _less(bench, outside, 2, (outside - inside) // 2)
    if first.length_ticks != inside:
        show = bench.notation.length
        how = (
            f"{how}, less {show(inside - first.length_ticks)} for the braces it"
            f" stops at = {show(first.length_ticks)}"
        )
    bevelled = first.brace.edge is Edge.BEVELLED
    return WoodPart(
        role=PartRole.PANEL_CLEAT if bevelled else PartRole.BRACE,
        label=first.brace.name,
        stock=first.stock.key,
        rip_width_ticks=first.brace.strip_ticks,
        cut_length_ticks=first.length_ticks,
        thickness_ticks=first.stock.thickness_ticks,
        count=len(group),
        how=how,
        inside_length_ticks=first.length_ticks,
        bevel_deg=first.brace.bevel_deg if bevelled else 0.0,
        long_face_ticks=first.long_ticks,
        short_face_ticks=first.short_ticks,
        runs=first.brace.runs,
        places=tuple(item.box for item in group),
    )


def _wall_cleats(
    bench: Bench, placed: tuple[PlacedBrace, ...], plan: HangPlan
) -> tuple[WoodPart, ...]:
    """Return the mates of the bevelled braces, cut down to the wall cleats' length."""
    hung = [item for item in placed if item.brace.edge is Edge.BEVELLED]
    each = len(plan.wall_cleats) // len(hung) if hung else 0
    return tuple(
        _wall_cleat(bench, item, each, plan.wall_cleats[0].length_ticks)
        for item in hung
    )


def _wall_cleat(
    bench: Bench, item: PlacedBrace, count: int, length_ticks: int
) -> WoodPart:
    show = bench.notation.length
    return WoodPart(
        role=PartRole.WALL_CLEAT,
        label="wall cleat",
        stock=item.stock.key,
        rip_width_ticks=item.brace.strip_ticks,
        cut_length_ticks=length_ticks,
        thickness_ticks=item.stock.thickness_ticks,
        count=count,
        how=f"{count} × {show(length_ticks)} from the mate of {item.brace.name}",
        inside_length_ticks=length_ticks,
        bevel_deg=item.brace.bevel_deg,
        long_face_ticks=item.long_ticks,
        short_face_ticks=item.short_ticks,
        runs=Runs.ACROSS,
        on_panel=False,
    )


def _plain(
    role: PartRole, stock: Stock, size: tuple[int, int], *, count: int, how: str
) -> WoodPart:
    """Return square-edged parts of one size: (width across the strip, length)."""
    width, length = size
    return WoodPart(
        role=role,
        label=str(role),
        stock=stock.key,
        rip_width_ticks=width,
        cut_length_ticks=length,
        thickness_ticks=stock.thickness_ticks,
        count=count,
        how=how,
        inside_length_ticks=length,
        long_face_ticks=width,
        short_face_ticks=width,
    )


def _blocks(bench: Bench, plan: HangPlan) -> tuple[WoodPart, ...]:
    rule, points = bench.build.blocking, bench.build.points
    if rule is None or points is None or plan.kind is not Hanging.CHAIN:
        return ()
    stock = bench.stock_or_frame(rule.stock, "blocking.stock")
    count = len(plan.points) * rule.layers
    part = _plain(
        PartRole.BLOCK,
        stock,
        (rule.width_ticks, rule.length_ticks),
        count=count,
        how=f"{len(plan.points)} points × {rule.layers} = {count}",
    )
    deep = rule.layers * stock.thickness_ticks
    places = tuple(
        _block_box(bench, point, (rule.width_ticks, rule.length_ticks, deep))
        for point in plan.points
    )
    return (replace(part, places=places),)


def _block_box(bench: Bench, point: Point, block: tuple[int, int, int]) -> Box:
    """Return a block's place: against the stile, or the rail for a point between.

    block is its reach inwards, its length along the member and its depth.
    """
    reach, length, deep = block
    frame, side = bench.sizes.frame, bench.frame_stock.thickness_ticks
    z = frame.depth_ticks - deep
    nearest_x = min(point.x_ticks, frame.width_ticks - point.x_ticks)
    nearest_y = min(point.y_ticks, frame.height_ticks - point.y_ticks)
    if nearest_x <= nearest_y:
        x = _against(point.x_ticks, reach, side, frame.width_ticks)
        y = _slid(point.y_ticks, length, side, frame.height_ticks)
        return Box(x, y, z, reach, length, deep)
    x = _slid(point.x_ticks, length, side, frame.width_ticks)
    y = _against(point.y_ticks, reach, side, frame.height_ticks)
    return Box(x, y, z, length, reach, deep)


def _against(middle: int, reach: int, side: int, outside: int) -> int:
    """Put a block against the nearer member."""
    return side if 2 * middle <= outside else outside - side - reach


def _slid(middle: int, length: int, side: int, outside: int) -> int:
    """Centre a block on its point, but keep it inside the frame."""
    return max(side, min(middle - length // 2, outside - side - length))


def _battens(bench: Bench) -> tuple[WoodPart, ...]:
    rule = bench.build.battens
    if rule is None or bench.build.hanging is not Hanging.BATTENS:
        return ()
    stock = bench.stock_or_frame(rule.stock, "battens.stock")
    height, show = bench.sizes.frame.height_ticks, bench.notation.length
    length = height - 2 * rule.end_gap_ticks
    part = _plain(
        PartRole.BATTEN,
        stock,
        (rule.strip_ticks, length),
        count=rule.count,
        how=f"{show(height)} − 2 × {show(rule.end_gap_ticks)} = {show(length)}",
    )
    return (replace(part, on_panel=False, runs=Runs.UPRIGHT),)


def _feet(bench: Bench) -> tuple[WoodPart, ...]:
    rule = bench.build.feet
    if rule is None or bench.build.hanging is not Hanging.FEET:
        return ()
    stock = bench.stock_or_frame(rule.stock, "feet.stock")
    frame, thick = bench.sizes.frame, stock.thickness_ticks
    part = _plain(
        PartRole.FOOT,
        stock,
        (rule.strip_ticks, rule.length_ticks),
        count=rule.count,
        how=f"{rule.count} × {bench.notation.length(rule.length_ticks)}",
    )
    z = (frame.depth_ticks - rule.length_ticks) // 2
    xs = evenly(rule.inset_ticks, frame.width_ticks - rule.inset_ticks, rule.count)
    return (
        replace(
            part,
            places=tuple(
                Box(
                    x - thick // 2,
                    -rule.strip_ticks,
                    z,
                    thick,
                    rule.strip_ticks,
                    rule.length_ticks,
                )
                for x in xs
            ),
        ),
    )


def blanks(bench: Bench, parts: tuple[WoodPart, ...]) -> tuple[Blank, ...]:
    """Return the strips to rip and crosscut; a wall cleat comes out of its mate's."""
    return tuple(
        _blank(bench, part) for part in parts if part.role is not PartRole.WALL_CLEAT
    )


def _blank(bench: Bench, part: WoodPart) -> Blank:
    stock, kerf = bench.materials[part.stock], bench.build.kerf_ticks
    width, strip = stock.width_ticks, part.rip_width_ticks
    half = max(0, halved(width, kerf))
    pair = part.role is PartRole.PANEL_CLEAT
    return Blank(
        label=f"{part.label} and wall cleat" if pair else part.label,
        stock=part.stock,
        rip_width_ticks=strip,
        length_ticks=part.cut_length_ticks,
        count=part.count,
        per_sheet=rips_from_width(width, strip, kerf).count,
        per_halved_sheet=2 * rips_from_width(half, strip, kerf).count,
        bevel_deg=part.bevel_deg,
    )
