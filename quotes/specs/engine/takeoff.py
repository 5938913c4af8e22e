"""The one way in: a build spec and a size to everything that the panel is made of."""

from __future__ import annotations

from collections.abc import Mapping

from quotes.specs.engine.bench import Bench
from quotes.specs.engine.braces import brace_problems, place_braces
from quotes.specs.engine.build import Build
from quotes.specs.engine.cloth import cloth_problems, cloths
from quotes.specs.engine.counts import driver_counts, item_counts, operation_counts
from quotes.specs.engine.errors import Problem, TakeoffError
from quotes.specs.engine.filling import fill_pieces, fill_problems, share_depth
from quotes.specs.engine.fitness import flags, part_problems
from quotes.specs.engine.hanging import plan_hanging, with_tip
from quotes.specs.engine.mass import weigh
from quotes.specs.engine.materials import find, find_wood
from quotes.specs.engine.notation import Notation
from quotes.specs.engine.result import NominalSize, Takeoff
from quotes.specs.engine.sizes import work_out
from quotes.specs.engine.steps import order_of_work
from quotes.specs.engine.stock import Stock
from quotes.specs.engine.timber import blanks, wood_parts
from shared.length import UnitSystem

ENGINE_VERSION = "takeoff 1"


def take_off(
    build: Build,
    size: NominalSize,
    materials: Mapping[str, Stock],
    *,
    units: UnitSystem = UnitSystem.METRIC,
    fraction: int = 16,
) -> Takeoff:
    """Work out one panel: parts, cloths, fill, counts, mass, hanging, order of work.

    Parameters
    ----------
    build : the spec; size : nominal size, or for a reveal panel the opening's smallest
    readings; materials : every material that the build names, by key.
    units, fraction : how derivations and sentences print lengths; figures do not
    change with them.

    Returns
    -------
    Takeoff of one panel, all lengths in ticks, masses in kg. Its problems are flags:
    nothing that stops the panel.

    Raises
    ------
    TakeoffError with every refusal found: too small for its own braces or hanging
    points, longer or wider than its stock, fill thicker than its depth, a cloth that
    the roll cannot give, a material that is missing or of the wrong kind. Not
    checked: whether the panel fits the room, or whether what holds it is rated.
    """
    notation = Notation(units, fraction)
    frame_stock = find_wood(materials, build.frame_stock, "frame_stock")
    sizes = work_out(build, size, frame_stock.thickness_ticks, notation)
    bench = Bench(build, sizes, materials, notation)
    for item in build.items:
        find(materials, item.material, "items")
    placed = place_braces(bench)
    _stop_at(brace_problems(placed, sizes, notation))
    plan = plan_hanging(bench, placed)
    parts = wood_parts(bench, placed, plan)
    strips = blanks(bench, parts)
    depths = share_depth(bench, placed)
    fills = fill_pieces(bench, placed, depths)
    fabric = cloths(bench, placed)
    _stop_at(
        [
            *part_problems(bench, parts, plan),
            *fill_problems(bench, depths),
            *cloth_problems(bench, fabric),
        ]
    )
    counts = driver_counts(bench, (parts, strips), (fabric, fills), plan)
    items = item_counts(bench, counts)
    mass = weigh(bench, parts, (fabric, fills, depths), items)
    plan = with_tip(plan, build, mass.centre.y_ticks)
    return Takeoff(
        engine_version=ENGINE_VERSION,
        build_key=build.key,
        kind=build.kind,
        nominal=size,
        frame=sizes.frame,
        finished=sizes.finished,
        clear=sizes.clear,
        parts=parts,
        blanks=strips,
        cloths=fabric,
        fills=fills,
        depths=depths,
        hang=plan,
        counts=counts,
        items=items,
        operations=operation_counts(bench, counts),
        mass=mass,
        steps=order_of_work(bench, parts, fabric, plan, mass),
        problems=tuple(flags(bench, plan, mass)),
        size_how=sizes.how,
    )


def _stop_at(problems: list[Problem]) -> None:
    if problems:
        first = problems[0]
        raise TakeoffError(first.field, first.message, tuple(problems))
