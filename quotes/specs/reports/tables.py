"""A takeoff as tables and derivations, with the shop's own names in them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from quotes.specs.engine.model import (
    Cloth,
    ClothRole,
    Driver,
    EndCut,
    Hanging,
    ItemCount,
    Mass,
    Stage,
    Takeoff,
    WoodPart,
)
from shared.conventions import current
from shared.length import show, show_size
from shared.money import show_number
from shared.templatetags.ui import mass as mass_words
from shop.catalogue.models import Driver as DriverWords
from shop.catalogue.models import WorkStage

ENDS = {
    EndCut.SQUARE: "square",
    EndCut.MITRE: "mitred",
    EndCut.HALF_LAP: "half-lapped",
}
CLOTHS = {
    ClothRole.FRONT: "front",
    ClothRole.LINING: "lining",
    ClothRole.BACK: "back",
}


@dataclass(frozen=True, slots=True)
class Step:
    """A figure that opens to how it came, for the derivation partial."""

    label: str
    amount: str
    sums: str = ""
    note: str = ""
    steps: tuple[Step, ...] = ()


@dataclass(frozen=True, slots=True)
class PartLine:
    """Like pieces of wood on the cut list."""

    label: str
    stock: str
    count: int
    rip_ticks: int
    length_ticks: int
    ends: str
    bevel: str
    on_panel: bool
    how: str
    all: int


@dataclass(frozen=True, slots=True)
class StripLine:
    """A strip to rip and crosscut before any tilted rip, and what a sheet gives."""

    label: str
    stock: str
    count: int
    rip_ticks: int
    length_ticks: int
    per_sheet: int
    per_halved_sheet: int
    all: int


@dataclass(frozen=True, slots=True)
class ClothLine:
    """A piece of fabric and how it lies on the roll."""

    role: str
    fabric: str
    size: str
    lay: str
    how: str


@dataclass(frozen=True, slots=True)
class FillLine:
    """Like pieces of fill."""

    fill: str
    size: str
    count: int
    is_whole_board: bool
    all: int


@dataclass(frozen=True, slots=True)
class ItemLine:
    """Hardware or a consumable of one panel, however many rules of the build ask for it."""

    name: str
    amount: str
    spare: str
    where: str
    in_load_path: bool
    how: tuple[str, ...]
    all: str


@dataclass(frozen=True, slots=True)
class Tables:
    """Everything a page or a bench sheet prints of one panel."""

    parts: tuple[PartLine, ...]
    strips: tuple[StripLine, ...]
    cloths: tuple[ClothLine, ...]
    fills: tuple[FillLine, ...]
    items: tuple[ItemLine, ...]
    work: tuple[Step, ...]
    mass: Step
    depths: Step
    held: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class Named:
    """What a material is called, and what it is counted in."""

    name: str
    unit: str = "each"

    def amount(self, quantity: Decimal) -> str:
        """Print how much of it; pieces as whole ones, since nobody counts parts."""
        if self.unit != "each":
            return f"{_number(quantity)} {self.unit}"
        whole = quantity.to_integral_value(ROUND_CEILING)
        return _number(whole)


Names = Mapping[str, Named]
Words = Mapping[str, str]
NAMELESS = Named("")


def tables_of(
    takeoff: Takeoff, names: Names, operations: Words, *, panels: int = 1
) -> Tables:
    """Lay a takeoff out for so many panels; names of materials and work by key."""
    return Tables(
        parts=tuple(_part(part, names, panels) for part in takeoff.parts),
        strips=tuple(_strips(takeoff, names, panels)),
        cloths=tuple(_cloth(cloth, names) for cloth in takeoff.cloths),
        fills=tuple(
            FillLine(
                _name(names, f.material),
                _size(f.width_ticks, f.height_ticks, f.thickness_ticks),
                f.count,
                f.whole_board,
                f.count * panels,
            )
            for f in takeoff.fills
        ),
        items=tuple(_items(takeoff, names, panels)),
        work=tuple(_work(takeoff, operations)),
        mass=_mass(takeoff.mass),
        depths=_depths(takeoff),
        held=tuple(_held(takeoff)),
    )


def _length(ticks: int) -> str:
    conventions = current()
    return show(
        ticks,
        units=conventions.unit_system,
        fraction=conventions.fraction,
        feet=False,
    )


def _size(*sides: int) -> str:
    conventions = current()
    return show_size(
        *sides, units=conventions.unit_system, fraction=conventions.fraction
    )


def _name(names: Names, key: str) -> str:
    return names.get(key, NAMELESS).name


def _number(value: Decimal | int) -> str:
    return show_number(Decimal(value), locale=current().locale, decimals=2)


def _part(part: WoodPart, names: Names, panels: int) -> PartLine:
    bevel = ""
    if part.bevel_deg:
        faces = f"{_length(part.long_face_ticks)} and {_length(part.short_face_ticks)}"
        bevel = f"{part.bevel_deg:g}°, faces {faces}"
    return PartLine(
        label=part.label,
        stock=_name(names, part.stock),
        count=part.count,
        rip_ticks=part.rip_width_ticks,
        length_ticks=part.cut_length_ticks,
        ends=ENDS[part.end],
        bevel=bevel,
        on_panel=part.on_panel,
        how=part.how,
        all=part.count * panels,
    )


def _strips(takeoff: Takeoff, names: Names, panels: int) -> Iterator[StripLine]:
    for blank in takeoff.blanks:
        yield StripLine(
            label=blank.label,
            stock=_name(names, blank.stock),
            count=blank.count,
            rip_ticks=blank.rip_width_ticks,
            length_ticks=blank.length_ticks,
            per_sheet=blank.per_sheet,
            per_halved_sheet=blank.per_halved_sheet,
            all=blank.count * panels,
        )


def _cloth(cloth: Cloth, names: Names) -> ClothLine:
    lay = "does not fit the roll"
    if cloth.lays:
        best = cloth.lays[0]
        turned = "turned, " if best.turned else ""
        drops = f"{best.drops} widths, seamed; " if best.drops > 1 else ""
        lay = f"{drops}{turned}{_length(best.along_ticks)} along the roll"
    return ClothLine(
        role=CLOTHS[cloth.role],
        fabric=_name(names, cloth.material),
        size=_size(cloth.width_ticks, cloth.height_ticks),
        lay=lay,
        how=cloth.how,
    )


def _items(takeoff: Takeoff, names: Names, panels: int) -> Iterator[ItemLine]:
    """Give each material once for each place it goes to."""
    alike: dict[tuple[str, str], list[ItemCount]] = {}
    for item in takeoff.items:
        alike.setdefault((item.material, _where(item)), []).append(item)
    for (material, where), items in alike.items():
        named = names.get(material, NAMELESS)
        one = sum((item.quantity for item in items), Decimal(0))
        spare = sum((item.spare for item in items), Decimal(0))
        yield ItemLine(
            name=named.name,
            amount=named.amount(one),
            spare=f"{named.amount(spare)} spare" if spare else "",
            where=where,
            in_load_path=any(item.in_load_path for item in items),
            how=tuple(item.how for item in items),
            all=named.amount(one if where == ONCE else one * panels),
        )


ONCE = "once a job"


def _where(item: ItemCount) -> str:
    if item.driver is Driver.JOB:
        return ONCE
    return "for the van" if item.for_site else "at the bench"


def _work(takeoff: Takeoff, operations: Words) -> Iterator[Step]:
    """Give each stage of the work with its operations, those that there are."""
    for stage in WorkStage:
        steps = tuple(
            Step(
                operations.get(line.key, ""),
                f"{_number(line.amount)} × {DriverWords(line.driver).label}",
                line.how,
            )
            for line in takeoff.operations
            if line.stage is Stage(stage.value)
        )
        if steps:
            yield Step(stage.label.capitalize(), f"{len(steps)}", steps=steps)


def _mass(mass: Mass) -> Step:
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
        f"{_number(Decimal(str(round(kg * 1000, 1))))} g" if kg < 1 else mass_words(kg)
    )


def _depths(takeoff: Takeoff) -> Step:
    depths = takeoff.depths
    return Step(
        "Air behind the fill",
        _length(depths.air_behind_ticks),
        depths.how,
        steps=(
            Step("Before the fill", _length(depths.air_front_ticks)),
            Step("Fill", _length(depths.fill_ticks)),
            Step("Of the air behind, free of any brace", _length(depths.slack_ticks)),
        ),
    )


def _held(takeoff: Takeoff) -> Iterator[Step]:
    """Give the figures of the way it is held, and how they came."""
    yield from _HELD[takeoff.hang.kind](takeoff)
    if how := takeoff.hang.how:
        yield Step("How these come about", "", steps=tuple(Step(h, "") for h in how))


def _cleats(takeoff: Takeoff) -> Iterator[Step]:
    plan = takeoff.hang
    for cleat in plan.wall_cleats:
        holes = ", ".join(_length(hole) for hole in cleat.holes)
        yield Step(
            "Wall cleat",
            _length(cleat.length_ticks),
            f"holes at {holes} from its left end",
            f"Its upper edge lies {_length(cleat.below_top_ticks)} below the frame’s"
            " top edge.",
        )
    yield Step("Slides sideways, each way", _length(plan.travel_ticks))
    yield Step("Room above to hook it on", _length(plan.headroom_ticks))


def _points(takeoff: Takeoff) -> Iterator[Step]:
    points = takeoff.hang.points
    places = tuple(
        Step(f"{_length(p.x_ticks)} from the left", f"{_length(p.y_ticks)} up")
        for p in points
    )
    yield Step("Hanging points", str(len(points)), steps=places)


def _edge(takeoff: Takeoff) -> Iterator[Step]:
    yield Step("Gap at each side", _length(takeoff.hang.gap_ticks))


def _battens(takeoff: Takeoff) -> Iterator[Step]:
    plan = takeoff.hang
    yield Step("From the corner to the line on each wall", _length(plan.batten_ticks))
    yield Step("From the corner to the panel’s front", _length(plan.projection_ticks))


def _feet(takeoff: Takeoff) -> Iterator[Step]:
    plan = takeoff.hang
    yield Step("Stands off the floor by", _length(plan.stand_ticks))
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
