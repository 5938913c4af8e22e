"""What a panel has of each driver, and the items and operations counted by them."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from quotes.specs.engine.bench import Bench
from quotes.specs.engine.measure import exact, metres, square_metres
from quotes.specs.engine.notation import number, times
from quotes.specs.engine.result import (
    Blank,
    Cloth,
    DriverCount,
    FillPiece,
    HangPlan,
    ItemCount,
    OperationCount,
    WoodPart,
)
from quotes.specs.engine.words import (
    BackStyle,
    ClothRole,
    Driver,
    EndCut,
    Hanging,
    PartRole,
)

CORNERS = 4
# Saw cuts that each part takes: a square end is the next part's start; a mitre's is
# not; a half-lap adds its two notches.
CUTS_OF = {EndCut.SQUARE: 1, EndCut.MITRE: 2, EndCut.HALF_LAP: 3}
BRACES = frozenset({PartRole.BRACE, PartRole.PANEL_CLEAT})


def driver_counts(
    bench: Bench,
    wood: tuple[tuple[WoodPart, ...], tuple[Blank, ...]],
    soft: tuple[tuple[Cloth, ...], tuple[FillPiece, ...]],
    plan: HangPlan,
) -> tuple[DriverCount, ...]:
    """Return every driver of Driver's list once, with how it was counted."""
    parts, blanks = wood
    cloths, fills = soft
    return (
        DriverCount(Driver.JOB, Decimal(1), "once for the job"),
        DriverCount(Driver.PANEL, Decimal(1), "1 panel"),
        DriverCount(Driver.JOINT, Decimal(CORNERS), "4 corners of the frame"),
        *_of_parts(parts),
        *_of_blanks(bench, blanks),
        *_of_cloths(bench, cloths),
        *_of_fills(fills),
        *_of_hanging(bench, plan),
        _face(bench),
    )


def _of_parts(parts: tuple[WoodPart, ...]) -> Iterable[DriverCount]:
    yield _whole(Driver.PART, [(p.count, p.label) for p in parts])
    yield _whole(Driver.CUT, [(p.count * CUTS_OF[p.end], p.label) for p in parts])
    for driver, roles in ((Driver.BRACE, BRACES), (Driver.BLOCK, {PartRole.BLOCK})):
        yield _whole(driver, [(p.count, p.label) for p in parts if p.role in roles])


def _whole(driver: Driver, counted: list[tuple[int, str]]) -> DriverCount:
    total = sum(count for count, _ in counted)
    how = " + ".join(f"{count} {label}" for count, label in counted)
    return DriverCount(driver, Decimal(total), f"{how} = {total}" if how else "none")


def _of_blanks(bench: Bench, blanks: tuple[Blank, ...]) -> Iterable[DriverCount]:
    yield _run(bench, Driver.FRAME_METRE, [(b.count, b.length_ticks) for b in blanks])
    ripped = [
        (b.count, b.length_ticks)
        for b in blanks
        if bench.is_ripped(b.stock, b.rip_width_ticks)
    ]
    yield _run(bench, Driver.RIP_METRE, ripped)
    tilted = [(b.count, b.length_ticks) for b in blanks if b.bevel_deg]
    yield _run(bench, Driver.BEVEL_METRE, tilted)


def _run(bench: Bench, driver: Driver, runs: list[tuple[int, int]]) -> DriverCount:
    total = sum(count * length for count, length in runs)
    lengths = times(*((count, bench.notation.length(length)) for count, length in runs))
    how = f"{lengths} = {bench.notation.run(total)}" if runs else "none"
    return DriverCount(driver, metres(total), how)


def _of_cloths(bench: Bench, cloths: tuple[Cloth, ...]) -> Iterable[DriverCount]:
    show = bench.notation.size
    area = sum((cloth.area_m2 for cloth in cloths), Decimal(0))
    sizes = " + ".join(show(c.width_ticks, c.height_ticks) for c in cloths)
    how = f"{sizes} = {area:.3f} m²" if cloths else "none"
    yield DriverCount(Driver.FABRIC_M2, area, how)
    faces = [_stapled(bench, cloth) for cloth in cloths]
    yield _run(
        bench,
        Driver.FABRIC_EDGE_METRE,
        [(2, side) for face in faces for side in face],
    )
    yield _run(
        bench, Driver.SEAM_METRE, [(1, c.seam_ticks) for c in cloths if c.seam_ticks]
    )


def _stapled(bench: Bench, cloth: Cloth) -> tuple[int, int]:
    """Return the two sides that a cloth is stapled along, twice each."""
    build, turned = bench.build, 2 * bench.build.turn_ticks
    inside = build.back_style is BackStyle.INSIDE_FRAME
    if cloth.role is ClothRole.BACK and inside:
        return cloth.width_ticks - turned, cloth.height_ticks - turned
    return bench.sizes.frame.width_ticks, bench.sizes.frame.height_ticks


def _of_fills(fills: tuple[FillPiece, ...]) -> Iterable[DriverCount]:
    area = sum((piece.area_m2 for piece in fills), Decimal(0))
    count = sum(piece.count for piece in fills)
    noun = "piece" if count == 1 else "pieces"
    how = f"{count} {noun}, {area:.3f} m²" if fills else "none"
    yield DriverCount(Driver.FILL_M2, area, how)
    yield DriverCount(Driver.FILL_PIECE, Decimal(count), how)


def _of_hanging(bench: Bench, plan: HangPlan) -> Iterable[DriverCount]:
    build = bench.build
    held = held_at(bench, plan)
    yield DriverCount(Driver.HANGING_POINT, Decimal(held), f"{held} × {plan.kind}")
    holes = {
        Hanging.CLEAT: sum(len(cleat.holes) for cleat in plan.wall_cleats),
        Hanging.CHAIN: held,
        Hanging.BATTENS: held * build.battens.holes if build.battens else 0,
    }.get(plan.kind, 0)
    yield DriverCount(Driver.SCREW_HOLE, Decimal(holes), f"{holes} in the building")
    finished = bench.sizes.finished
    sides = [(2, finished.width_ticks), (2, finished.height_ticks)]
    strip = sides if plan.kind is Hanging.EDGE else []
    yield _run(bench, Driver.EDGE_STRIP_METRE, strip)


def held_at(bench: Bench, plan: HangPlan) -> int:
    """Return in how many places the panel is held: points, cleats, battens or feet."""
    build = bench.build
    return {
        Hanging.CLEAT: len(plan.wall_cleats),
        Hanging.CHAIN: len(plan.points),
        Hanging.BATTENS: build.battens.count if build.battens else 0,
        Hanging.FEET: build.feet.count if build.feet else 0,
    }.get(plan.kind, 0)


def _face(bench: Bench) -> DriverCount:
    frame = bench.sizes.frame
    area = square_metres(frame.width_ticks, frame.height_ticks)
    size = bench.notation.size(frame.width_ticks, frame.height_ticks)
    return DriverCount(Driver.FACE_M2, area, f"{size} = {area:.3f} m²")


def item_counts(bench: Bench, counts: tuple[DriverCount, ...]) -> tuple[ItemCount, ...]:
    """Return the build's items, those that a panel of this size has any of."""
    of = {line.driver: line.amount for line in counts}
    return tuple(
        ItemCount(
            material=item.material,
            role=item.role,
            driver=item.driver,
            quantity=exact(item.quantity * of[item.driver]),
            spare=exact(item.quantity * of[item.driver] * item.spare_share),
            for_site=item.for_site,
            how=_product(item.quantity, of[item.driver], item.driver),
            in_load_path=item.in_load_path,
        )
        for item in bench.build.items
        if of[item.driver]
    )


def _product(each: Decimal, amount: Decimal, driver: Driver) -> str:
    noun = str(driver).replace("_", " ")
    return f"{number(each)} per {noun} × {number(amount)} = {number(each * amount)}"


def operation_counts(
    bench: Bench, counts: tuple[DriverCount, ...]
) -> tuple[OperationCount, ...]:
    """Return the build's operations, those that a panel of this size has any of."""
    of = {line.driver: line for line in counts}
    return tuple(
        OperationCount(
            key=operation.key,
            driver=operation.driver,
            stage=operation.stage,
            amount=of[operation.driver].amount,
            how=of[operation.driver].how,
        )
        for operation in bench.build.operations
        if of[operation.driver].amount
    )
