"""Figures of a takeoff that open to how they came: sizes, depths, mass, holding, work."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from quotes.specs.engine.model import Hanging, Mass, Stage, Takeoff
from shared.conventions import current
from shared.length import show, show_size
from shared.money import show_number
from shared.templatetags.ui import mass as mass_words
from shop.catalogue.models import Driver as DriverWords
from shop.catalogue.models import WorkStage


@dataclass(frozen=True, slots=True)
class Step:
    """A figure that opens to how it came, for the derivation partial."""

    label: str
    amount: str
    sums: str = ""
    note: str = ""
    steps: tuple[Step, ...] = ()


def length_words(ticks: int) -> str:
    """Print a length in the shop's units, inches without feet."""
    conventions = current()
    return show(
        ticks,
        units=conventions.unit_system,
        fraction=conventions.fraction,
        feet=False,
    )


def sides_words(*sides: int) -> str:
    """Print two or three sides in the shop's units."""
    conventions = current()
    return show_size(
        *sides, units=conventions.unit_system, fraction=conventions.fraction
    )


def number_words(value: Decimal | int) -> str:
    """Print a number in the shop's locale."""
    return show_number(Decimal(value), locale=current().locale, decimals=2)


def work_of(takeoff: Takeoff, operations: Mapping[str, str]) -> Iterator[Step]:
    """Give each stage of the work with its operations, those that there are."""
    for stage in WorkStage:
        steps = tuple(
            Step(
                operations.get(line.key, ""),
                f"{number_words(line.amount)} × {DriverWords(line.driver).label}",
                line.how,
            )
            for line in takeoff.operations
            if line.stage is Stage(stage.value)
        )
        if steps:
            yield Step(stage.label.capitalize(), f"{len(steps)}", steps=steps)


def sizes_of(takeoff: Takeoff) -> Iterator[Step]:
    """Give nominal, frame, finished and clear size, each from the one it follows."""
    frame, finished, nominal = takeoff.frame, takeoff.finished, takeoff.nominal
    said = sides_words(nominal.width_ticks, nominal.height_ticks)
    sawn = sides_words(frame.width_ticks, frame.height_ticks)
    done = sides_words(finished.width_ticks, finished.height_ticks)
    cloth = length_words(finished.width_ticks - frame.width_ticks)
    called, made = "Nominal, as people call it", "Finished, with fabric"
    of_frame, of_finished = "the nominal size", f"{sawn} + {cloth} of fabric each way"
    if gap := takeoff.hang.gap_ticks:
        called, made = "Opening, by its smallest readings", "Made for it, with fabric"
        of_frame = f"{done} − {cloth} of fabric each way"
        of_finished = f"{said} of opening − 2 × {length_words(gap)} each way"
    side = (frame.width_ticks - takeoff.clear.width_ticks) // 2
    clear = sides_words(takeoff.clear.width_ticks, takeoff.clear.height_ticks)
    depth = length_words(frame.depth_ticks)
    yield Step(called, said)
    yield Step("Frame, as it is cut", sawn, of_frame, f"{depth} deep.")
    yield Step(made, done, of_finished)
    yield Step(
        "Clear, inside the frame", clear, f"{sawn} − 2 × {length_words(side)} each way"
    )


def mass_of(mass: Mass) -> Step:
    """Give what is lifted, and what stays on the building, line by line."""

    def lines(*, on_panel: bool) -> tuple[Step, ...]:
        return tuple(
            Step(line.label.capitalize(), _grams(line.kg), line.how)
            for line in mass.lines
            if line.on_panel is on_panel
        )

    other = mass.total_kg - mass.panel_kg
    beside = Step(
        "Beside it, on the building", mass_words(other), steps=lines(on_panel=False)
    )
    return Step(
        "The panel, as it is lifted",
        mass_words(mass.panel_kg),
        "the sum of these:",
        steps=(*lines(on_panel=True), *((beside,) if other else ())),
    )


def _grams(kg: float) -> str:
    return (
        f"{number_words(Decimal(str(round(kg * 1000, 1))))} g"
        if kg < 1
        else mass_words(kg)
    )


def depths_of(takeoff: Takeoff) -> Step:
    """Give the air behind the fill, with how the depth is shared out."""
    depths = takeoff.depths
    return Step(
        "Air behind the fill",
        length_words(depths.air_behind_ticks),
        depths.how,
        steps=(
            Step("Before the fill", length_words(depths.air_front_ticks)),
            Step("Fill", length_words(depths.fill_ticks)),
            Step(
                "Of the air behind, free of any brace", length_words(depths.slack_ticks)
            ),
        ),
    )


def held_of(takeoff: Takeoff) -> Iterator[Step]:
    """Give the figures of the way it is held, and how they came."""
    yield from _HELD[takeoff.hang.kind](takeoff)
    if how := takeoff.hang.how:
        yield Step("How these come about", "", steps=tuple(Step(h, "") for h in how))


def _cleats(takeoff: Takeoff) -> Iterator[Step]:
    plan = takeoff.hang
    for cleat in plan.wall_cleats:
        holes = ", ".join(length_words(hole) for hole in cleat.holes)
        yield Step(
            "Wall cleat",
            length_words(cleat.length_ticks),
            f"holes at {holes} from its left end",
            f"Its upper edge lies {length_words(cleat.below_top_ticks)} below the frame’s"
            " top edge.",
        )
    yield Step("Slides sideways, each way", length_words(plan.travel_ticks))
    yield Step("Room above to hook it on", length_words(plan.headroom_ticks))


def _points(takeoff: Takeoff) -> Iterator[Step]:
    points = takeoff.hang.points
    places = tuple(
        Step(
            f"{length_words(p.x_ticks)} from the left", f"{length_words(p.y_ticks)} up"
        )
        for p in points
    )
    yield Step("Hanging points", str(len(points)), steps=places)


def _edge(takeoff: Takeoff) -> Iterator[Step]:
    yield Step("Gap at each side", length_words(takeoff.hang.gap_ticks))


def _battens(takeoff: Takeoff) -> Iterator[Step]:
    plan = takeoff.hang
    yield Step(
        "From the corner to the line on each wall", length_words(plan.batten_ticks)
    )
    yield Step(
        "From the corner to the panel’s front", length_words(plan.projection_ticks)
    )


def _feet(takeoff: Takeoff) -> Iterator[Step]:
    plan = takeoff.hang
    yield Step("Stands off the floor by", length_words(plan.stand_ticks))
    if plan.tip_deg is not None:
        yield Step(
            "Tilt at which it would tip",
            f"{plan.tip_deg:.1f}°",
            note="Information, not a limit: people lean on screens.",
        )


_HELD: dict[Hanging, Callable[[Takeoff], Iterator[Step]]] = {
    Hanging.CLEAT: _cleats,
    Hanging.CHAIN: _points,
    Hanging.EDGE: _edge,
    Hanging.BATTENS: _battens,
    Hanging.FEET: _feet,
}
