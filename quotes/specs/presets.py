"""Make the five builds that come with the program as the shop's own rows."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import fields
from decimal import Decimal
from typing import Any

from django.db import transaction

from quotes.specs.actions import store_build
from quotes.specs.adapter import RULE_OF_HANGING, SpecParts
from quotes.specs.engine.model import Brace, Build, Edge, Hanging
from quotes.specs.engine.presets import five_builds
from quotes.specs.models import Brace as BraceRow
from quotes.specs.models import BuildSpec, SpecItem, SpecOperation
from shared.length import UnitSystem
from shop.catalogue.models import Material, Operation
from shop.people.models import Person

_SAME = (
    "name",
    "kind",
    "depth_ticks",
    "joint",
    "glued",
    "fastening",
    "through",
    "kerf_ticks",
    "fill_layers",
    "fill_setback_front_ticks",
    "fill_oversize_ticks",
    "back_style",
    "wrap_ticks",
    "turn_ticks",
    "allow_seam",
    "seam_ticks",
    "finished_growth_ticks",
    "hanging",
)
"""Fields of a build that are columns of the same name and kind."""

_NAMED = ("frame_stock", "fill", "front_fabric", "front_lining", "back_fabric")
"""Fields of a build that name a material."""


@transaction.atomic
def create_five_builds(
    *,
    materials: Mapping[str, Material],
    operations: Mapping[str, Operation],
    by: Person,
    at: dt.datetime,
    units: UnitSystem = UnitSystem.METRIC,
) -> list[BuildSpec]:
    """Make those of the five builds that are not there yet; return the new ones.

    `materials` and `operations` are the shop's own, by the codes that the builds use.
    """
    present = set(BuildSpec.objects.values_list("preset", flat=True))
    missing = (b for b in five_builds(units) if b.key not in present)
    return [
        _store(build, _Shelf(materials, operations), by=by, at=at) for build in missing
    ]


class _Shelf:
    """The shop's materials and operations by code."""

    def __init__(
        self, materials: Mapping[str, Material], operations: Mapping[str, Operation]
    ) -> None:
        self.materials = materials
        self.operations = operations

    def material(self, code: str | None) -> Material | None:
        return None if code is None else self.materials[code]


def _store(build: Build, shelf: _Shelf, *, by: Person, at: dt.datetime) -> BuildSpec:
    columns: dict[str, Any] = {name: getattr(build, name) for name in _SAME}
    columns |= {name: shelf.material(getattr(build, name)) for name in _NAMED}
    for prefix, rule in _rules(build):
        columns |= dict(_rule_columns(prefix, rule, shelf))
    spec = BuildSpec(
        preset=build.key,
        created_at=at,
        stile_bevel_deg=Decimal(str(build.stile_bevel_deg)),
        one_person_kg=Decimal(str(build.one_person_kg)),
        **columns,
    )
    parts = SpecParts(
        [_brace(brace, shelf) for brace in build.braces],
        [_item(item, shelf) for item in build.items],
        [SpecOperation(operation=shelf.operations[u.key]) for u in build.operations],
    )
    return store_build(spec, parts, by=by, at=at)


def _rules(build: Build) -> Iterable[tuple[str, Any]]:
    """Give the rules that a build has, with their columns' prefix."""
    prefix, _ = RULE_OF_HANGING[Hanging(build.hanging)]
    yield prefix, getattr(build, prefix)
    if build.blocking:
        yield "blocking", build.blocking


def _rule_columns(prefix: str, rule: Any, shelf: _Shelf) -> Iterable[tuple[str, Any]]:
    for field in fields(rule):
        value = getattr(rule, field.name)
        if field.name in {"stock", "strip"}:
            value = shelf.material(value)
        yield f"{prefix}_{field.name}", value


def _brace(brace: Brace, shelf: _Shelf) -> BraceRow:
    bevelled = brace.edge is Edge.BEVELLED
    return BraceRow(
        name=brace.name,
        runs=brace.runs,
        lies=brace.lies,
        edge=brace.edge,
        strip_ticks=brace.strip_ticks,
        bevel_deg=Decimal(str(brace.bevel_deg)) if bevelled else Decimal(45),
        place=brace.position,
        fraction=brace.fraction,
        max_span_ticks=brace.max_span_ticks,
        from_face=brace.from_face,
        setback_ticks=brace.setback_ticks,
        when_over_ticks=brace.when_over_ticks,
        stock=shelf.material(brace.stock),
    )


def _item(item: Any, shelf: _Shelf) -> SpecItem:
    return SpecItem(
        material=shelf.materials[item.material],
        quantity=item.quantity,
        driver=item.driver,
        spare_percent=item.spare_share * 100,
        for_site=item.for_site,
        in_load_path=item.in_load_path,
    )
