"""How the panel is held: wall cleats, hanging points, blocks, gaps, battens, feet."""

from __future__ import annotations

import math
from dataclasses import replace

from quotes.specs.engine.bench import Bench
from quotes.specs.engine.braces import PlacedBrace
from quotes.specs.engine.build import Build
from quotes.specs.engine.errors import TakeoffError
from quotes.specs.engine.geometry import (
    count_within,
    evenly,
    rise_ticks,
    side_travel,
)
from quotes.specs.engine.notation import Notation
from quotes.specs.engine.result import HangPlan, Point, WallCleat
from quotes.specs.engine.rules import CleatRule, PointRule
from quotes.specs.engine.sizes import Sizes, reveal_gap
from quotes.specs.engine.words import Edge, Hanging

# Half the right angle of a room's corner.
ROOT_HALF = math.sqrt(0.5)


def plan_hanging(bench: Bench, placed: tuple[PlacedBrace, ...]) -> HangPlan:
    """Return where the panel is held and what room that takes, by the build's hanging."""
    build, sizes, notation = bench.build, bench.sizes, bench.notation
    if build.hanging is Hanging.CLEAT and build.cleat:
        return _on_cleats(build.cleat, sizes, placed, notation)
    if build.hanging is Hanging.CHAIN and build.points:
        return _on_points(build.points, sizes, notation)
    if build.hanging is Hanging.BATTENS and build.battens:
        batten = bench.stock_or_frame(build.battens.stock, "battens.stock")
        return _in_corner(bench, batten.thickness_ticks)
    if build.hanging is Hanging.EDGE:
        return HangPlan(Hanging.EDGE, gap_ticks=reveal_gap(build))
    stand = build.feet.strip_ticks if build.feet else 0
    return HangPlan(Hanging.FEET, stand_ticks=stand)


def _on_cleats(
    rule: CleatRule, sizes: Sizes, placed: tuple[PlacedBrace, ...], notation: Notation
) -> HangPlan:
    """Lay out wall cleats inside the clear width, with lift and sideways travel.

    The wall cleat's upper edge at the wall lies one long face below the top edge of
    the brace that hangs on it; the bevels clear when lifted by t tan θ.
    """
    clear = sizes.clear.width_ticks
    side = (sizes.frame.width_ticks - clear) // 2
    length, lefts = _cleat_places(rule, sizes, notation)
    holes = evenly_inset(rule, length, notation)
    span = lefts[-1] + length - lefts[0]
    hung = [item for item in placed if item.brace.edge is Edge.BEVELLED]
    cleats = [
        WallCleat(
            length_ticks=length,
            left_ticks=side + left,
            below_top_ticks=sizes.frame.height_ticks - item.box.y_ticks,
            holes=holes,
        )
        for item in hung
        for left in lefts
    ]
    lift = max(
        rise_ticks(item.stock.thickness_ticks, item.brace.bevel_deg) for item in hung
    )
    travel = side_travel(clear, span, rule.margin_ticks)
    return HangPlan(
        Hanging.CLEAT,
        wall_cleats=tuple(cleats),
        travel_ticks=travel,
        lift_ticks=lift,
        headroom_ticks=lift + rule.finger_ticks,
        how=(
            f"Slides the lesser of ({notation.length(clear)} − {notation.length(span)})"
            f" ÷ 2 and {notation.length(span)} ÷ 2 −"
            f" {notation.length(rule.margin_ticks)} = {notation.length(travel)} each way",
            f"Room above to hook on: {notation.length(lift)} to clear the bevel +"
            f" {notation.length(rule.finger_ticks)} for a finger"
            f" = {notation.length(lift + rule.finger_ticks)}",
        ),
    )


def _cleat_places(
    rule: CleatRule, sizes: Sizes, notation: Notation
) -> tuple[int, tuple[int, ...]]:
    """Return a wall cleat's length and the left ends, from the clear opening's left."""
    clear, width = sizes.clear.width_ticks, sizes.frame.width_ticks
    two = bool(rule.two_over_ticks) and width > rule.two_over_ticks
    share = float(rule.wall_share) * width / (2 if two else 1)
    stepped = round(share / rule.step_ticks) * rule.step_ticks
    length = rule.wall_fixed_ticks or max(stepped, rule.wall_min_ticks)
    room = clear - 2 * rule.two_travel_ticks if two else clear
    if length * (2 if two else 1) > room:
        raise TakeoffError(
            "width_ticks",
            f"A wall cleat of {notation.length(length)} does not fit inside the frame:"
            f" shorten the cleat or make the panel wider.",
        )
    if not two:
        return length, ((clear - length) // 2,)
    return length, (rule.two_travel_ticks, clear - rule.two_travel_ticks - length)


def evenly_inset(
    rule: CleatRule, length_ticks: int, notation: Notation
) -> tuple[int, ...]:
    """Return a wall cleat's pilot holes from its left end."""
    span = length_ticks - 2 * rule.hole_inset_ticks
    count = count_within(span, rule.hole_spacing_ticks, rule.holes)
    if span <= 0 and count > 1:
        raise TakeoffError(
            "cleat",
            f"The holes of a wall cleat of {notation.length(length_ticks)} would meet:"
            " put them nearer to its ends.",
        )
    return evenly(rule.hole_inset_ticks, length_ticks - rule.hole_inset_ticks, count)


def _on_points(rule: PointRule, sizes: Sizes, notation: Notation) -> HangPlan:
    points, inset = _points(rule, sizes, notation), notation.length(rule.inset_ticks)
    return HangPlan(
        Hanging.CHAIN,
        points=points,
        how=(f"{len(points)} points, {inset} in from the outside edges",),
    )


def _points(rule: PointRule, sizes: Sizes, notation: Notation) -> tuple[Point, ...]:
    """Return the points along the edges, bottom row first, left to right."""
    xs = _row(rule.across, rule, sizes.frame.width_ticks, "width_ticks", notation)
    height = sizes.frame.height_ticks
    if rule.down == 1:
        return tuple(Point(x, height - rule.inset_ticks) for x in xs)
    ys = _row(rule.down, rule, height, "height_ticks", notation)
    return tuple(
        Point(x, y)
        for y in ys
        for x in xs
        if y in {ys[0], ys[-1]} or x in {xs[0], xs[-1]}
    )


def _row(
    count: int, rule: PointRule, size_ticks: int, field: str, notation: Notation
) -> tuple[int, ...]:
    first, last = rule.inset_ticks, size_ticks - rule.inset_ticks
    if count > 1 and last <= first:
        least = notation.length(2 * rule.inset_ticks)
        raise TakeoffError(
            field, f"The hanging points would meet in the middle: go over {least}."
        )
    return evenly(
        first, last, count_within(last - first, rule.max_spacing_ticks, count)
    )


def _in_corner(bench: Bench, batten_ticks: int) -> HangPlan:
    """Return where a panel across a right-angled corner touches its battens.

    A panel of width W at 45° has its touching edges W / √2 from the corner that the
    battens' faces make, which lies one batten's thickness off each wall; its front is
    W / 2 and the depth of the stile's outside face from there along the middle line.
    """
    width, show = bench.sizes.frame.width_ticks, bench.notation.length
    side = bench.frame_stock.thickness_ticks
    outside = bench.build.depth_ticks - rise_ticks(side, bench.build.stile_bevel_deg)
    touch = round(width * ROOT_HALF) + batten_ticks
    return HangPlan(
        Hanging.BATTENS,
        batten_ticks=touch,
        projection_ticks=round(width / 2 + outside + batten_ticks / ROOT_HALF),
        how=(
            f"Battens reach {show(width)} ÷ √2 + {show(batten_ticks)}"
            f" = {show(touch)} from the corner",
        ),
    )


def with_tip(plan: HangPlan, build: Build, centre_y_ticks: int) -> HangPlan:
    """Add the tilt at which a screen tips: atan(half its foot / height of its mass)."""
    if not build.feet or build.hanging is not Hanging.FEET:
        return plan
    high = centre_y_ticks + build.feet.strip_ticks
    tilt = math.degrees(math.atan2(build.feet.length_ticks / 2, high))
    return replace(plan, tip_deg=tilt)
