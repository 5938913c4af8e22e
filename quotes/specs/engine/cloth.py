"""Fabric pieces: cut sizes, how the roll takes them, and seams."""

from __future__ import annotations

import math

from quotes.specs.engine.bench import Bench
from quotes.specs.engine.braces import TIGHT, PlacedBrace
from quotes.specs.engine.errors import Problem, Severity
from quotes.specs.engine.materials import find_cloth
from quotes.specs.engine.result import Cloth, RollLay
from quotes.specs.engine.stock import Stock
from quotes.specs.engine.words import BackStyle, ClothRole, Edge

FIELD_OF = {
    ClothRole.FRONT: "front_fabric",
    ClothRole.LINING: "front_lining",
    ClothRole.BACK: "back_fabric",
}


def cloths(bench: Bench, placed: tuple[PlacedBrace, ...]) -> tuple[Cloth, ...]:
    """Return the front fabric, its lining and the back fabric, those that there are."""
    build = bench.build
    found = []
    if build.front_fabric:
        found.append(_front(bench, build.front_fabric))
    if build.front_lining:
        found.append(_lining(bench, build.front_lining))
    if build.back_fabric:
        found.append(_back(bench, build.back_fabric, placed))
    return tuple(found)


def _front(bench: Bench, key: str) -> Cloth:
    """Front fabric: (W + 2 (D + a)) × (H + 2 (D + a)), a the wrap past the back edge."""
    build, frame, show = bench.build, bench.sizes.frame, bench.notation.length
    around = 2 * (build.depth_ticks + build.wrap_ticks)
    how = (
        f"({bench.notation.size(frame.width_ticks, frame.height_ticks)}) + 2 ×"
        f" ({show(build.depth_ticks)} + {show(build.wrap_ticks)}) each way"
    )
    return _cloth(bench, ClothRole.FRONT, key, _grown(bench, around), how)


def _lining(bench: Bench, key: str) -> Cloth:
    """Lining: the frame's face, turned over its sides."""
    return _cloth(bench, ClothRole.LINING, key, *_turned(bench, 0, "frame"))


def _back(bench: Bench, key: str, placed: tuple[PlacedBrace, ...]) -> Cloth:
    """Back fabric: over the back edge and folded under, or inside, cleat left bare."""
    if bench.build.back_style is BackStyle.OVER_BACK_EDGE:
        return _cloth(bench, ClothRole.BACK, key, *_turned(bench, 0, "frame"))
    bare = sum(
        item.extent_ticks
        for item in placed
        if item.brace.edge is Edge.BEVELLED and item.brace.position in TIGHT
    )
    return _cloth(bench, ClothRole.BACK, key, *_turned(bench, bare, "clear"))


def _grown(bench: Bench, around_ticks: int) -> tuple[int, int]:
    frame = bench.sizes.frame
    return frame.width_ticks + around_ticks, frame.height_ticks + around_ticks


def _turned(bench: Bench, bare_ticks: int, of: str) -> tuple[tuple[int, int], str]:
    """Return a cloth's size and how: the frame's or the clear face, less bare, and turned."""
    show, turn = bench.notation.length, bench.build.turn_ticks
    face = bench.sizes.frame if of == "frame" else bench.sizes.clear
    less = f" less {show(bare_ticks)} for the cleat" if bare_ticks else ""
    how = (
        f"({bench.notation.size(face.width_ticks, face.height_ticks)}{less})"
        f" + 2 × {show(turn)} each way"
    )
    size = (face.width_ticks + 2 * turn, face.height_ticks - bare_ticks + 2 * turn)
    return size, how


def _cloth(
    bench: Bench, role: ClothRole, key: str, size: tuple[int, int], how: str
) -> Cloth:
    stock = find_cloth(bench.materials, key, FIELD_OF[role])
    width, height = size
    lays = roll_lays(stock, width, height)
    if not lays and bench.build.allow_seam:
        lays = _seamed(stock, width, height, bench.build.seam_ticks)
    seam = 0
    if lays:
        best = lays[0]
        seam = (best.drops - 1) * (width if best.turned else height)
    return Cloth(
        role=role,
        material=stock.key,
        width_ticks=width,
        height_ticks=height,
        lays=lays,
        how=f"{how} = {bench.notation.size(width, height)}",
        seam_ticks=seam,
    )


def roll_lays(stock: Stock, width_ticks: int, height_ticks: int) -> tuple[RollLay, ...]:
    """Return the ways that one piece lies on the roll without a seam, least length first.

    A cloth with an up is never turned.
    """
    upright = RollLay(width_ticks, height_ticks)
    turned = RollLay(height_ticks, width_ticks, turned=True)
    ways = [upright] if stock.directional else [upright, turned]
    return tuple(sorted((lay for lay in ways if _fits(stock, lay)), key=_least_length))


def _least_length(lay: RollLay) -> int:
    return lay.along_ticks


def _fits(stock: Stock, lay: RollLay) -> bool:
    each = lay.along_ticks // lay.drops
    long_enough = not stock.length_ticks or each <= stock.length_ticks
    return lay.across_ticks <= stock.usable_width_ticks and long_enough


def _seamed(
    stock: Stock, width_ticks: int, height_ticks: int, seam_ticks: int
) -> tuple[RollLay, ...]:
    """Return lays of several drops: n = ⌈(w − 2 s) / (usable − 2 s)⌉, 2 s lost a seam."""
    usable = stock.usable_width_ticks
    if usable <= 2 * seam_ticks:
        return ()
    lays = []
    for across, along, turned in (
        (width_ticks, height_ticks, False),
        (height_ticks, width_ticks, True),
    ):
        if turned and stock.directional:
            continue
        drops = math.ceil((across - 2 * seam_ticks) / (usable - 2 * seam_ticks))
        each = math.ceil((across + 2 * seam_ticks * (drops - 1)) / drops)
        lays.append(RollLay(each, drops * along, turned, drops))
    return tuple(sorted((lay for lay in lays if _fits(stock, lay)), key=_least_length))


def cloth_problems(bench: Bench, found: tuple[Cloth, ...]) -> list[Problem]:
    """Refuse cloths that their roll cannot give, and say what would work."""
    return [_too_wide(bench, cloth) for cloth in found if not cloth.lays]


def _too_wide(bench: Bench, cloth: Cloth) -> Problem:
    stock, show = bench.materials[cloth.material], bench.notation.length
    usable = stock.usable_width_ticks
    nap = " and its nap must run up the panel" if stock.directional else ""
    least = cloth.width_ticks
    if not stock.directional:
        least = min(least, cloth.height_ticks)
    side = "the width" if stock.directional else "one side"
    frame = bench.sizes.frame
    smaller = min(frame.width_ticks, frame.height_ticks)
    outside = frame.width_ticks if stock.directional else smaller
    most = outside - (least - usable)
    hint = f" or keep {side} to {show(most)}" if 0 < most < outside else ""
    return Problem(
        FIELD_OF[cloth.role],
        Severity.REFUSE,
        f"{stock.name} has {show(usable)} of usable width{nap}; the cloth is"
        f" {bench.notation.size(cloth.width_ticks, cloth.height_ticks)}."
        f" Choose a wider or longer roll, allow a seam{hint}.",
    )
