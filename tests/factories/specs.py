"""Builds and planned panels, as small as they may be."""

from __future__ import annotations

from decimal import Decimal
from itertools import count
from typing import Any

from quotes.specs.models import (
    Brace,
    BraceEdge,
    BracePlace,
    BuildSpec,
    Hanging,
    PanelKind,
    PlannedPanel,
    SpecItem,
    SpecOperation,
)
from shop.catalogue.models import Driver, Material, Operation
from shop.surveys.models import Room
from tests.factories.catalogue import (
    make_fabric,
    make_fill,
    make_hardware,
    make_operation,
    make_sheet,
    mm,
)

_numbers = count(1)


def make_spec(*, name: str = "", **fields: Any) -> BuildSpec:
    """A wall panel on a bevelled cleat, 100 mm deep, with fill and cloth."""
    usual: dict[str, Any] = {
        "kind": PanelKind.WALL,
        "hanging": Hanging.CLEAT,
        "depth_ticks": mm(100),
    }
    made = {"frame_stock": make_sheet, "fill": make_fill, "front_fabric": make_fabric}
    for field, make in made.items():
        if field not in fields:
            usual[field] = make()
    spec: BuildSpec = BuildSpec.objects.create(
        name=name or f"Build {next(_numbers)}", **usual | fields
    )
    if spec.hanging == Hanging.CLEAT:
        make_brace(spec=spec)
    return spec


def make_brace(*, spec: BuildSpec, **fields: Any) -> Brace:
    """The bevelled brace at the top, whose mate hangs on the wall."""
    usual = {
        "name": "Cleat brace",
        "edge": BraceEdge.BEVELLED,
        "place": BracePlace.TIGHT_TOP,
        "strip_ticks": mm(140),
    }
    return Brace.objects.create(spec=spec, **usual | fields)


def make_spec_item(
    *, spec: BuildSpec, material: Material | None = None, **fields: Any
) -> SpecItem:
    """Two of something on each panel."""
    usual = {"quantity": Decimal(2), "driver": Driver.PANEL}
    return SpecItem.objects.create(
        spec=spec, material=material or make_hardware(), **usual | fields
    )


def make_spec_operation(
    *, spec: BuildSpec, operation: Operation | None = None, **fields: Any
) -> SpecOperation:
    """Work for each joint."""
    return SpecOperation.objects.create(
        spec=spec, operation=operation or make_operation(), **fields
    )


def make_planned(
    *,
    room: Room,
    spec: BuildSpec | None = None,
    width_mm: float = 600,
    height_mm: float = 1200,
    **fields: Any,
) -> PlannedPanel:
    """A panel of 600 × 1200 mm."""
    size = {
        "width_ticks": mm(width_mm),
        "width_text": f"{width_mm:g}",
        "height_ticks": mm(height_mm),
        "height_text": f"{height_mm:g}",
    }
    return PlannedPanel.objects.create(
        room=room, spec=spec or make_spec(), **size | fields
    )
