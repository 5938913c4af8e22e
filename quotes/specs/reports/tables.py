"""A takeoff as tables and derivations, with the shop's own names in them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from quotes.specs.engine.model import (
    Cloth,
    ClothRole,
    Driver,
    EndCut,
    ItemCount,
    Takeoff,
    WoodPart,
)
from quotes.specs.reports.figures import (
    Step,
    depths_of,
    held_of,
    length_words,
    mass_of,
    number_words,
    sides_words,
    sizes_of,
    work_of,
)
from shared.templatetags.ui import cut

__all__ = ["Named", "Step", "Tables", "tables_of"]

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
    sizes: tuple[Step, ...]
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
            return f"{number_words(quantity)} {self.unit}"
        whole = quantity.to_integral_value(ROUND_CEILING)
        return number_words(whole)


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
                sides_words(f.width_ticks, f.height_ticks, f.thickness_ticks),
                f.count,
                f.whole_board,
                f.count * panels,
            )
            for f in takeoff.fills
        ),
        items=tuple(_items(takeoff, names, panels)),
        work=tuple(work_of(takeoff, operations)),
        sizes=tuple(sizes_of(takeoff)),
        mass=mass_of(takeoff.mass),
        depths=depths_of(takeoff),
        held=tuple(held_of(takeoff)),
    )


def _name(names: Names, key: str) -> str:
    return names.get(key, NAMELESS).name


def _part(part: WoodPart, names: Names, panels: int) -> PartLine:
    bevel = ""
    if part.bevel_deg:
        faces = f"{cut(part.long_face_ticks)} and {cut(part.short_face_ticks)}"
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
        lay = f"{drops}{turned}{length_words(best.along_ticks)} along the roll"
    return ClothLine(
        role=CLOTHS[cloth.role],
        fabric=_name(names, cloth.material),
        size=sides_words(cloth.width_ticks, cloth.height_ticks),
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
