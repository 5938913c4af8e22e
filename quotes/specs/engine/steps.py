"""The order of work at the bench, from what the build has, with its cautions.

A caution is named by key (saw, bevel, nailer, wooddust, fibre, lift); its words and
its source are kept with the safety texts.
"""

from __future__ import annotations

from collections.abc import Iterable

from quotes.specs.engine.bench import Bench
from quotes.specs.engine.notation import times
from quotes.specs.engine.result import Cloth, HangPlan, Mass, WoodPart, WorkStep
from quotes.specs.engine.words import (
    BackStyle,
    ClothRole,
    Fastening,
    Hanging,
    Joint,
    PartRole,
)

NAMES = {
    ClothRole.FRONT: "front fabric",
    ClothRole.LINING: "front lining",
    ClothRole.BACK: "back fabric",
}


def order_of_work(
    bench: Bench,
    parts: tuple[WoodPart, ...],
    cloths: tuple[Cloth, ...],
    plan: HangPlan,
    mass: Mass,
) -> tuple[WorkStep, ...]:
    """Return the bench's steps in order, those that this panel has."""
    return (
        *_saw_steps(bench, parts),
        *_frame_steps(bench),
        *_fitting_steps(bench, parts, plan),
        *_upholstery_steps(bench, cloths),
        _last_step(bench, plan, mass),
    )


def _saw_steps(bench: Bench, parts: tuple[WoodPart, ...]) -> Iterable[WorkStep]:
    show = bench.notation.length
    stock = bench.frame_stock
    yield WorkStep(
        "mark",
        "Measure the stock and mark up",
        f"This sheet counts on {stock.name} being {show(stock.thickness_ticks)} thick."
        " Take a calliper reading first: everything inside moves by twice the error.",
    )
    sawn = [part for part in parts if part.role is not PartRole.WALL_CLEAT]
    widths = sorted(
        {
            p.rip_width_ticks
            for p in sawn
            if bench.is_ripped(p.stock, p.rip_width_ticks)
        },
        reverse=True,
    )
    if widths:
        yield WorkStep(
            "rip",
            "Rip the strips",
            "Strips " + ", ".join(show(width) for width in widths) + " wide.",
            ("saw", "wooddust"),
        )
    yield WorkStep(
        "crosscut",
        "Crosscut to length",
        "; ".join(_lengths(bench, part) for part in sawn) + ".",
        ("saw", "wooddust"),
    )
    yield from _bevel_step(bench, sawn)
    yield from _joint_step(bench)


def _lengths(bench: Bench, part: WoodPart) -> str:
    return f"{part.label} {times((part.count, bench.notation.length(part.cut_length_ticks)))}"


def _bevel_step(bench: Bench, sawn: list[WoodPart]) -> Iterable[WorkStep]:
    tilted = [part for part in sawn if part.bevel_deg]
    if tilted:
        faces = "; ".join(
            f"{part.label}: {part.bevel_deg:g}°, faces"
            f" {bench.notation.length(part.long_face_ticks)} and"
            f" {bench.notation.length(part.short_face_ticks)}"
            for part in tilted
        )
        yield WorkStep(
            "bevel",
            "Rip the bevels",
            f"{faces}. Mark which face goes to the wall.",
            ("saw", "bevel", "wooddust"),
        )


def _joint_step(bench: Bench) -> Iterable[WorkStep]:
    words = {
        Joint.MITRE: (
            "Cut the mitres",
            "Both ends of all four at 45°, long side outside.",
        ),
        Joint.HALF_LAP: (
            "Cut the half-laps",
            f"Each end: {bench.notation.length(bench.frame_stock.thickness_ticks)} along,"
            f" half the width ({bench.notation.length(bench.build.depth_ticks // 2)}) deep.",
        ),
    }.get(bench.build.joint)
    if words:
        yield WorkStep("joint", *words, ("saw", "wooddust"))


def _frame_steps(bench: Bench) -> Iterable[WorkStep]:
    build = bench.build
    glue = "Glue" if build.glued else ""
    nail = {Fastening.NAILS: "nail", Fastening.SCREWS: "screw"}.get(build.fastening, "")
    words = " and ".join(word for word in (glue, nail) if word) or "Join"
    nailed = build.fastening is Fastening.NAILS
    yield WorkStep(
        "frame",
        f"{words.capitalize()} the frame",
        _frame_detail(bench),
        ("nailer",) if nailed else (),
    )
    frame = bench.sizes.frame
    before = " before the glue sets" if build.glued else ""
    yield WorkStep(
        "square",
        "Check the corners for square",
        f"Both diagonals {bench.notation.length(frame.diagonal_ticks)}{before}.",
    )


def _frame_detail(bench: Bench) -> str:
    size = bench.notation.size(*_outside(bench))
    if bench.build.joint is not Joint.BUTT:
        return f"Outside {size}."
    pair = "rails" if bench.build.through == "width" else "stiles"
    return f"Outside {size}; the {pair} run through, so drive into the others' ends."


def _outside(bench: Bench) -> tuple[int, int]:
    return bench.sizes.frame.width_ticks, bench.sizes.frame.height_ticks


def _fitting_steps(
    bench: Bench, parts: tuple[WoodPart, ...], plan: HangPlan
) -> Iterable[WorkStep]:
    nailed = ("nailer",) if bench.build.fastening is Fastening.NAILS else ()
    by_role = {part.role: part for part in parts}
    braces = [p for p in parts if p.role in {PartRole.BRACE, PartRole.PANEL_CLEAT}]
    if braces:
        detail = "; ".join(_brace_detail(bench, part) for part in braces)
        yield WorkStep("braces", "Fit the braces", f"{detail}.", nailed)
    if PartRole.BLOCK in by_role:
        yield _block_step(bench, by_role[PartRole.BLOCK], plan)
    if PartRole.WALL_CLEAT in by_role:
        yield _cleat_step(bench, by_role[PartRole.WALL_CLEAT], plan)
    if PartRole.BATTEN in by_role:
        batten = by_role[PartRole.BATTEN]
        yield WorkStep("battens", "Make the battens", f"{_lengths(bench, batten)}.")
    if PartRole.FOOT in by_role:
        foot = by_role[PartRole.FOOT]
        yield WorkStep("feet", "Fit the feet", f"{_lengths(bench, foot)}.")


def _brace_detail(bench: Bench, part: WoodPart) -> str:
    show, box = bench.notation.length, part.places[0]
    ends = ", ".join(
        show(place.y_ticks if part.runs == "across" else place.x_ticks)
        for place in part.places
    )
    start = "bottom" if part.runs == "across" else "left"
    return (
        f"{part.label}: {ends} from the {start}, {show(box.z_ticks)} behind the front"
    )


def _block_step(bench: Bench, block: WoodPart, plan: HangPlan) -> WorkStep:
    show = bench.notation.length
    holes = "; ".join(
        f"{show(p.x_ticks)} from the left, {show(p.y_ticks)} from the bottom"
        for p in plan.points
    )
    return WorkStep(
        "blocks",
        "Glue and screw the blocking, drill through for the eyes",
        f"{_lengths(bench, block)}, flush with the back. Holes: {holes}.",
    )


def _cleat_step(bench: Bench, part: WoodPart, plan: HangPlan) -> WorkStep:
    cleat, show = plan.wall_cleats[0], bench.notation.length
    holes = ", ".join(show(hole) for hole in cleat.holes)
    return WorkStep(
        "cleat",
        "Cut the wall cleat from its mate and drill it",
        f"{part.count} × {show(part.cut_length_ticks)}; pilot holes {holes} from the"
        " left end. Write the panel's code on it.",
        ("saw", "wooddust"),
    )


def _upholstery_steps(bench: Bench, cloths: tuple[Cloth, ...]) -> Iterable[WorkStep]:
    """Fill goes in before the back fabric that lies over the back edge, else after it."""
    of = {cloth.role: cloth for cloth in cloths}
    over = bench.build.back_style is BackStyle.OVER_BACK_EDGE
    roles = (ClothRole.LINING, ClothRole.FRONT)
    order = (*roles, None, ClothRole.BACK) if over else (ClothRole.BACK, None, *roles)
    for role in order:
        if role is None:
            yield from _fill_step(bench)
        elif role in of:
            yield _cloth_step(bench, of[role])


def _fill_step(bench: Bench) -> Iterable[WorkStep]:
    build = bench.build
    if build.fill:
        layers = f"{build.fill_layers} layers of " if build.fill_layers > 1 else ""
        yield WorkStep(
            "fill",
            "Lay in the fill",
            f"{layers}{bench.materials[build.fill].name}, uncompressed, no gaps.",
            ("fibre",),
        )


def _cloth_step(bench: Bench, cloth: Cloth) -> WorkStep:
    name, stock = NAMES[cloth.role], bench.materials[cloth.material]
    nap = " Nap up the panel, the same on every one." if stock.directional else ""
    size = bench.notation.size(cloth.width_ticks, cloth.height_ticks)
    return WorkStep(
        str(cloth.role),
        f"Staple the {name}",
        f"{stock.name}, cut {size}.{nap}",
        ("nailer",),
    )


def _last_step(bench: Bench, plan: HangPlan, mass: Mass) -> WorkStep:
    heavy = mass.panel_kg > bench.build.one_person_kg
    finished = bench.sizes.finished
    size = bench.notation.size(finished.width_ticks, finished.height_ticks)
    back = (
        " Write the hook-on height on the back." if plan.kind is Hanging.CLEAT else ""
    )
    return WorkStep(
        "check",
        "Check, wrap and label",
        f"Finished {size}; corners tight, weave straight, no staple seen.{back}"
        f" About {bench.notation.mass(mass.panel_kg)}: weigh it when you can.",
        ("lift",) if heavy or plan.kind is Hanging.CHAIN else (),
    )
