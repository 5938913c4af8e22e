"""Whether the stock gives the parts, the blocks have room and one person can lift it."""

from __future__ import annotations

import itertools
from collections.abc import Iterable

from quotes.specs.engine.bench import Bench
from quotes.specs.engine.errors import Problem, Severity
from quotes.specs.engine.materials import find
from quotes.specs.engine.result import Box, HangPlan, Mass, WoodPart
from quotes.specs.engine.words import Hanging, PartRole, Runs


def part_problems(
    bench: Bench, parts: tuple[WoodPart, ...], plan: HangPlan
) -> list[Problem]:
    """Refuse parts that their stock cannot give or the frame cannot hold."""
    return [
        *(problem for part in parts for problem in _stock_problems(bench, part)),
        *_mate_problems(bench, parts),
        *_block_problems(bench, parts, plan),
        *_batten_problems(bench),
        *_feet_problems(bench),
    ]


def _refuse(field: str, message: str) -> Problem:
    return Problem(field, Severity.REFUSE, message)


def _stock_problems(bench: Bench, part: WoodPart) -> Iterable[Problem]:
    stock, show = bench.materials[part.stock], bench.notation.length
    too_long = part.cut_length_ticks - stock.length_ticks
    if stock.length_ticks and too_long > 0:
        field, hint = _shorter(bench, part, too_long)
        yield _refuse(
            field,
            f"The {part.label} of {show(part.cut_length_ticks)} is longer than"
            f" {stock.name} ({show(stock.length_ticks)}): use longer stock, or {hint}.",
        )
    if stock.width_ticks and part.rip_width_ticks > stock.width_ticks:
        yield _refuse(
            _strip_field(part),
            f"The {part.label} is {show(part.rip_width_ticks)} wide and {stock.name}"
            f" gives {show(stock.width_ticks)}: use wider stock or a narrower strip.",
        )


def _shorter(bench: Bench, part: WoodPart, too_long_ticks: int) -> tuple[str, str]:
    """Return the field to change for a shorter part, and how."""
    if part.role in OWN_LENGTH:
        return _FIELD_OF[part.role], f"a shorter {part.label}"
    side = "height" if part.runs is Runs.UPRIGHT else "width"
    most = getattr(bench.sizes.nominal, f"{side}_ticks") - too_long_ticks
    return f"{side}_ticks", f"keep the {side} to {bench.notation.length(most)}"


# Parts as long as the build says, whatever the panel's size.
OWN_LENGTH = frozenset({PartRole.BLOCK, PartRole.FOOT})


def _strip_field(part: WoodPart) -> str:
    if part.role in {PartRole.RAIL, PartRole.STILE}:
        return "depth_ticks"
    return _FIELD_OF.get(part.role, "braces")


_FIELD_OF = {
    PartRole.BLOCK: "blocking",
    PartRole.BATTEN: "battens",
    PartRole.FOOT: "feet",
}


def _mate_problems(bench: Bench, parts: tuple[WoodPart, ...]) -> Iterable[Problem]:
    """Refuse wall cleats that one mate is too short for, kerfs between them counted."""
    mates = [part for part in parts if part.role is PartRole.WALL_CLEAT]
    clear = bench.sizes.clear.width_ticks
    for part in mates:
        kerfs = (part.count - 1) * bench.build.kerf_ticks
        if part.count * part.cut_length_ticks + kerfs > clear:
            yield _refuse(
                "cleat",
                f"{part.how} need more than its {bench.notation.length(clear)}:"
                " shorten the wall cleats.",
            )


def _block_problems(
    bench: Bench, parts: tuple[WoodPart, ...], plan: HangPlan
) -> Iterable[Problem]:
    blocks = [box for p in parts if p.role is PartRole.BLOCK for box in p.places]
    if any(_sticks_out(bench, box) for box in blocks):
        yield _refuse(
            "blocking", "The blocks do not fit inside the frame: shorten them."
        )
    elif any(
        not _under(box, point.x_ticks, point.y_ticks)
        for box, point in zip(blocks, plan.points, strict=False)
    ):
        yield _refuse(
            "points",
            "A hanging point misses its block: move the points to"
            f" {bench.notation.length(_best_inset(bench))} from the edges, or make the"
            " blocks wider.",
        )
    braces = [box for p in parts if p.role is PartRole.BRACE for box in p.places]
    if any(_overlap(a, b) for a, b in itertools.combinations(blocks, 2)):
        yield _refuse("blocking", "The blocks run into each other: shorten them.")
    if any(_overlap(a, b) for a, b in itertools.product(blocks, braces)):
        yield _refuse("blocking", "A block runs into a brace: move the brace.")


def _best_inset(bench: Bench) -> int:
    """Return the inset that puts a point over the middle of its block."""
    reach = bench.build.blocking.width_ticks if bench.build.blocking else 0
    return bench.frame_stock.thickness_ticks + reach // 2


def _sticks_out(bench: Bench, box: Box) -> bool:
    frame, side = bench.sizes.frame, bench.frame_stock.thickness_ticks
    return (
        min(box.x_ticks, box.y_ticks) < side
        or box.z_ticks < 0
        or box.x_ticks + box.width_ticks > frame.width_ticks - side
        or box.y_ticks + box.height_ticks > frame.height_ticks - side
    )


def _under(box: Box, x_ticks: int, y_ticks: int) -> bool:
    return (
        box.x_ticks < x_ticks < box.x_ticks + box.width_ticks
        and box.y_ticks < y_ticks < box.y_ticks + box.height_ticks
    )


def _overlap(first: Box, second: Box) -> bool:
    return (
        first.x_ticks < second.x_ticks + second.width_ticks
        and second.x_ticks < first.x_ticks + first.width_ticks
        and first.y_ticks < second.y_ticks + second.height_ticks
        and second.y_ticks < first.y_ticks + first.height_ticks
        and first.z_ticks < second.z_ticks + second.depth_ticks
        and second.z_ticks < first.z_ticks + first.depth_ticks
    )


def _batten_problems(bench: Bench) -> Iterable[Problem]:
    rule, height = bench.build.battens, bench.sizes.frame.height_ticks
    if rule and bench.build.hanging is Hanging.BATTENS:
        gaps = 2 * rule.end_gap_ticks
        if gaps >= height:
            least = bench.notation.length(gaps)
            yield _refuse("height_ticks", f"No batten would be left: go over {least}.")


def _feet_problems(bench: Bench) -> Iterable[Problem]:
    rule, width = bench.build.feet, bench.sizes.frame.width_ticks
    if rule and bench.build.hanging is Hanging.FEET:
        thick = bench.stock_or_frame(rule.stock, "feet.stock").thickness_ticks
        least = 2 * rule.inset_ticks + rule.count * thick
        if least > width:
            shown = bench.notation.length(least)
            yield _refuse(
                "width_ticks", f"The feet would meet: make it {shown} or more."
            )


def flags(bench: Bench, plan: HangPlan, mass: Mass) -> list[Problem]:
    """Return what does not stop the panel but a person should know."""
    return [
        *_lift_flags(bench, mass),
        *_cleat_flags(plan),
        *_block_flags(bench, plan),
        *_edge_flags(bench),
    ]


def _flag(field: str, message: str) -> Problem:
    return Problem(field, Severity.FLAG, message)


def _lift_flags(bench: Bench, mass: Mass) -> Iterable[Problem]:
    limit, nominal = bench.build.one_person_kg, bench.sizes.nominal
    if mass.panel_kg > limit:
        tall = nominal.height_ticks >= nominal.width_ticks
        yield _flag(
            "height_ticks" if tall else "width_ticks",
            f"Weighs {bench.notation.mass(mass.panel_kg)}, over"
            f" {bench.notation.mass(limit)} for one person: plan two people or a panel"
            " lift, or make two panels of it.",
        )


def _cleat_flags(plan: HangPlan) -> Iterable[Problem]:
    if plan.kind is Hanging.CLEAT and not plan.travel_ticks:
        yield _flag(
            "cleat",
            "The panel cannot be slid sideways on its cleat: set it out exactly.",
        )


def _block_flags(bench: Bench, plan: HangPlan) -> Iterable[Problem]:
    if plan.kind is Hanging.CHAIN and bench.build.blocking is None:
        yield _flag(
            "blocking",
            "No blocking under the hanging points: an eye screwed into a frame's edge"
            " has no rating.",
        )


def _edge_flags(bench: Bench) -> Iterable[Problem]:
    edge = bench.build.edge
    if edge and edge.strip:
        strip = find(bench.materials, edge.strip, "edge.strip")
        if strip.thickness_ticks <= edge.gap_ticks:
            yield _flag(
                "edge",
                f"{strip.name} is {bench.notation.length(strip.thickness_ticks)} thick"
                f" and the gap {bench.notation.length(edge.gap_ticks)}: it would not"
                " hold. Use a thicker strip or less clearance.",
            )
