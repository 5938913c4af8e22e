"""Builds and materials as rows, turned into what the takeoff takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, fields, replace
from decimal import Decimal
from typing import Any, TypeVar

from quotes.specs.engine import take_off
from quotes.specs.engine.model import (
    BackStyle,
    Battens,
    Blocking,
    Brace,
    Build,
    CleatRule,
    Driver,
    Edge,
    EdgeRule,
    Face,
    Fastening,
    Feet,
    Hanging,
    Item,
    ItemRole,
    Joint,
    Lies,
    NominalSize,
    OperationUse,
    PanelKind,
    PointRule,
    Position,
    Runs,
    Stage,
    Stock,
    StockKind,
    Takeoff,
    TakeoffError,
    Through,
)
from quotes.specs.models import Brace as BraceRow
from quotes.specs.models import BuildSpec, PlannedPanel, SpecItem, SpecOperation
from shared.conventions import current
from shop.catalogue.models import Material, MaterialKind

R = TypeVar("R")

RULE_OF_HANGING: dict[str, tuple[str, type[Any]]] = {
    Hanging.CLEAT: ("cleat", CleatRule),
    Hanging.CHAIN: ("points", PointRule),
    Hanging.EDGE: ("edge", EdgeRule),
    Hanging.BATTENS: ("battens", Battens),
    Hanging.FEET: ("feet", Feet),
}
"""Field of `Build`, which is the prefix of its columns, and the rule's class."""

_MATERIALS = frozenset({"stock", "strip"})
"""Fields of rules that name a material: their columns are foreign keys."""

_PLAIN_FIELDS = (
    "depth_ticks",
    "glued",
    "kerf_ticks",
    "fill_layers",
    "fill_setback_front_ticks",
    "fill_oversize_ticks",
    "wrap_ticks",
    "turn_ticks",
    "allow_seam",
    "seam_ticks",
    "finished_growth_ticks",
)


@dataclass(frozen=True, slots=True)
class SpecParts:
    """The rows that belong to a build, saved or not yet."""

    braces: Sequence[BraceRow]
    items: Sequence[SpecItem]
    operations: Sequence[SpecOperation]

    @classmethod
    def of(cls, spec: BuildSpec) -> SpecParts:
        """Read a saved build's parts: no query after `with_parts()`."""
        return cls(
            tuple(spec.braces.all()),
            tuple(spec.items.all()),
            tuple(spec.operations.all()),
        )


def exact(value: Decimal) -> Decimal:
    """Drop the zeros that a column's decimals add, so that equal builds freeze alike."""
    return Decimal(f"{value.normalize():f}")


def material_key(material: Material) -> str:
    """Name a material in a build and in a snapshot."""
    return str(material.pk)


def build_of(spec: BuildSpec, parts: SpecParts | None = None) -> Build:
    """Turn a build's rows into what the takeoff takes.

    `parts` stand in for the saved ones, as when a form is checked. Raises
    `TakeoffError`, with the column as its field, for rows that make no build.
    """
    parts = parts or SpecParts.of(spec)
    plain = {name: getattr(spec, name) for name in _PLAIN_FIELDS}
    return Build(
        key=str(spec.pk),
        name=spec.name,
        kind=PanelKind(spec.kind),
        frame_stock=str(spec.frame_stock_id),
        hanging=Hanging(spec.hanging),
        joint=Joint(spec.joint),
        fastening=Fastening(spec.fastening),
        through=Through(spec.through),
        stile_bevel_deg=float(spec.stile_bevel_deg),
        back_style=BackStyle(spec.back_style),
        one_person_kg=float(spec.one_person_kg),
        fill=_key(spec.fill_id),
        front_fabric=_key(spec.front_fabric_id),
        front_lining=_key(spec.front_lining_id),
        back_fabric=_key(spec.back_fabric_id),
        braces=tuple(_brace(row, i) for i, row in enumerate(parts.braces)),
        items=tuple(_item(row, i) for i, row in enumerate(parts.items)),
        operations=tuple(_operation(row) for row in parts.operations),
        **_rules(spec),
        **plain,
    )


def _key(pk: Any) -> str | None:
    return None if pk is None else str(pk)


def _rules(spec: BuildSpec) -> dict[str, Any]:
    """Give the rule of the way it hangs, and the blocks if it has any."""
    prefix, rule = RULE_OF_HANGING[spec.hanging]
    found = {prefix: _rule(rule, spec, prefix)}
    if spec.blocking_length_ticks or spec.blocking_width_ticks:
        found["blocking"] = _rule(Blocking, spec, "blocking")
    return found


def _rule(kind: type[R], spec: BuildSpec, prefix: str) -> R:
    values: dict[str, Any] = {}
    for field in fields(kind):  # type: ignore[arg-type]
        column = f"{prefix}_{field.name}"
        if field.name in _MATERIALS:
            values[field.name] = _key(getattr(spec, f"{column}_id"))
        else:
            value = getattr(spec, column)
            values[field.name] = exact(value) if isinstance(value, Decimal) else value
    with _columns(f"{prefix}_"):
        return kind(**values)


@contextmanager
def _columns(prefix: str) -> Iterator[None]:
    """Name the column in an error that a nested rule raises about its own field."""
    try:
        yield
    except TakeoffError as error:
        raise TakeoffError(f"{prefix}{error.field}", error.message) from error


def _brace(row: BraceRow, index: int) -> Brace:
    with _columns(f"braces[{index}]."):
        bevelled = row.edge == Edge.BEVELLED
        return Brace(
            name=row.name,
            runs=Runs(row.runs),
            lies=Lies(row.lies),
            strip_ticks=row.strip_ticks,
            position=Position(row.place),
            edge=Edge(row.edge),
            bevel_deg=float(row.bevel_deg) if bevelled else 0.0,
            fraction=exact(row.fraction),
            max_span_ticks=row.max_span_ticks,
            from_face=Face(row.from_face),
            setback_ticks=row.setback_ticks,
            stock=_key(row.stock_id),
            when_over_ticks=row.when_over_ticks,
        )


def _item(row: SpecItem, index: int) -> Item:
    consumable = row.material.kind == MaterialKind.CONSUMABLE
    with _columns(f"items[{index}]."):
        return Item(
            material=str(row.material_id),
            quantity=exact(row.quantity),
            driver=Driver(row.driver),
            role=ItemRole.CONSUMABLE if consumable else ItemRole.HARDWARE,
            spare_share=exact(row.spare_percent / 100),
            for_site=row.for_site,
            in_load_path=row.in_load_path,
        )


def _operation(row: SpecOperation) -> OperationUse:
    return OperationUse(
        key=str(row.operation_id),
        driver=Driver(row.operation.driver),
        stage=Stage(row.operation.stage),
    )


def stock_of(material: Material) -> Stock:
    """Turn a material into the facts that the takeoff needs; no price is among them."""
    return Stock(
        key=material_key(material),
        name=material.name,
        kind=StockKind(material.kind),
        thickness_ticks=material.thickness_ticks or 0,
        width_ticks=material.width_ticks or 0,
        length_ticks=material.length_ticks or 0,
        density_kg_m3=material.density_kg_m3 or 0.0,
        mass_g_m2=material.mass_g_m2 or 0.0,
        mass_g_each=material.mass_g_each or 0.0,
        selvedge_ticks=material.selvedge_ticks or 0,
        directional=material.directional,
        unit=material.unit,
    )


def materials_of(
    spec: BuildSpec, parts: SpecParts | None = None, *, fabric: Material | None = None
) -> dict[str, Material]:
    """Return every material of a build by its key, with another front fabric if given."""
    parts = parts or SpecParts.of(spec)
    named = [getattr(spec, name) for name in MATERIAL_COLUMNS]
    used: Iterable[Material | None] = (
        *named,
        *(row.stock for row in parts.braces),
        *(row.material for row in parts.items),
        fabric,
    )
    return {material_key(each): each for each in used if each is not None}


MATERIAL_COLUMNS = (
    "frame_stock",
    "fill",
    "front_fabric",
    "front_lining",
    "back_fabric",
    "blocking_stock",
    "edge_strip",
    "battens_stock",
    "feet_stock",
)
"""Columns of a build that name a material."""


def stocks_of(materials: dict[str, Material]) -> dict[str, Stock]:
    """Turn materials by key into stock by key, for the takeoff."""
    return {key: stock_of(material) for key, material in materials.items()}


def take_off_rows(
    spec: BuildSpec, size: NominalSize, *, fabric: Material | None = None
) -> Takeoff:
    """Take off one panel of a build in the shop's units: no query after `with_parts()`.

    Raises `TakeoffError` with every refusal.
    """
    conventions = current()
    return take_off(
        build_with(build_of(spec), fabric),
        size,
        stocks_of(materials_of(spec, fabric=fabric)),
        units=conventions.unit_system,
        fraction=conventions.fraction,
    )


def build_with(build: Build, fabric: Material | None) -> Build:
    """Put another front fabric on a build, if one was chosen."""
    return replace(build, front_fabric=material_key(fabric)) if fabric else build


def size_of(panel: PlannedPanel) -> NominalSize:
    """Return a planned panel's nominal size."""
    return NominalSize(panel.width_ticks, panel.height_ticks)
