"""Wood and fill: rows turned into what a cut plan is made from; and plans read back."""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from jobs.board.adapter import taken_off_at
from jobs.board.codes import runs_of
from jobs.board.models import Panel
from jobs.cutting.engine import PricedBy, Request, Source, WantedPanel
from jobs.cutting.engine.cloth import ClothRequest
from jobs.cutting.models import CutKind, CutPlan, Halving
from quotes.specs import frozen
from quotes.specs.engine.cutlist import CutPart, Wanted, cut_list
from quotes.specs.engine.model import Takeoff, TakeoffError
from shared.length import UnitSystem
from shared.money import minor_exponent, round_money
from shared.nesting import BarPlan, SheetPlan
from shared.nesting import Halving as Halved
from shared.nesting.kept import bar_plan_from_json, sheet_plan_from_json
from shop.catalogue.models import Material, MaterialKind, StockPiece

WOOD = (MaterialKind.SHEET, MaterialKind.BOARD)
"""Kinds that a saw cuts."""

CM_TICKS = 3200


class CannotBeBuiltError(Exception):
    """A panel's measured size, or the real thickness, makes no panel."""


@dataclass(frozen=True, slots=True)
class Alike:
    """Panels of one job that are made alike, at the size that they are built to."""

    panels: tuple[Panel, ...]
    snapshot: Mapping[str, Any]

    def takeoff(self, real_ticks: Mapping[str, int] | None = None) -> Takeoff:
        """Take one off; raises `CannotBeBuiltError` with a sentence that names them."""
        first = self.panels[0]
        try:
            return taken_off_at(
                self.snapshot,
                width_ticks=first.build_width_ticks,
                height_ticks=first.build_height_ticks,
                real_ticks=real_ticks,
            )
        except TakeoffError as refused:
            codes = runs_of(panel.code for panel in self.panels)
            message = f"{codes} can't be built as measured. {refused.message}"
            raise CannotBeBuiltError(message) from refused

    def thickness_of(self, material: str) -> int:
        """Return the thickness that a material was quoted with, in ticks."""
        return int(self.snapshot["materials"][material]["thickness_ticks"])

    @property
    def stocks(self) -> dict[str, int]:
        """How many pieces of wood one takes of each stock, as it was quoted."""
        return self._counts("blanks", "stock")

    @property
    def cloths(self) -> dict[str, int]:
        """How many pieces of cloth one takes of each material, as it was quoted."""
        return self._counts("cloths", "material")

    @property
    def fills(self) -> dict[str, int]:
        """How many pieces of fill one takes of each material, as it was quoted."""
        return self._counts("fills", "material")

    def _counts(self, what: str, of: str) -> dict[str, int]:
        counts: dict[str, int] = {}
        for each in self.snapshot["takeoff"].get(what, ()):
            counts[each[of]] = counts.get(each[of], 0) + each.get("count", 1)
        return counts


def alike(panels: Iterable[Panel]) -> tuple[Alike, ...]:
    """Group panels that are made alike; `panels` come from `with_group()`. One query."""
    groups: dict[tuple[uuid.UUID, str, int, int], list[Panel]] = {}
    for panel in panels:
        group: str = panel.group  # type: ignore[attr-defined]
        size = (panel.build_width_ticks, panel.build_height_ticks)
        groups.setdefault((panel.job_id, group, *size), []).append(panel)
    firsts = Panel.objects.snapshots_of(each[0].pk for each in groups.values())
    return tuple(Alike(tuple(g), firsts[g[0].pk]) for g in groups.values())


def parts_of(
    groups: Sequence[Alike],
    material: str,
    *,
    units: UnitSystem,
    real_ticks: int | None = None,
) -> tuple[CutPart, ...]:
    """Return what is cut of one material for some panels; takes each kind off once.

    Raises `CannotBeBuiltError`.
    """
    real = {material: real_ticks} if real_ticks else {}
    wanted = (
        Wanted(group.takeoff(real), tuple(str(panel.pk) for panel in group.panels))
        for group in groups
        if material in group.stocks
    )
    return tuple(p for p in cut_list(wanted, units=units) if p.stock == material)


def wanted_panels(groups: Iterable[Alike], material: str) -> tuple[WantedPanel, ...]:
    """Return those of the panels that some part of a material is for."""
    return wanted_of(group for group in groups if material in group.stocks)


def wanted_of(groups: Iterable[Alike]) -> tuple[WantedPanel, ...]:
    """Return the panels of some groups."""
    return tuple(
        WantedPanel(
            id=str(panel.pk),
            code=panel.code,
            build=str(group.snapshot["build"].get("key", "")),
            build_name=panel.spec_name,
        )
        for group in groups
        for panel in group.panels
    )


def kind_of(material: Material, parts: Sequence[CutPart]) -> CutKind:
    """Say how it is cut: a board that is only crosscut is a bar, else it is ripped too."""
    bars = material.kind == MaterialKind.BOARD and all(
        part.width_ticks == material.width_ticks and not part.bevel_deg
        for part in parts
    )
    return CutKind.BARS if bars else CutKind.SHEETS


def sources_of(
    materials: Sequence[Material], pieces: Iterable[StockPiece], *, currency: str
) -> tuple[tuple[Source, ...], PricedBy]:
    """Return kept pieces, then whole ones of each material, and what they are priced by.

    Kept pieces cost nothing: the bound then counts whole ones alone. Where a material has
    no price, whole ones are counted, or weighed by their area where there are several.
    """
    minor = [_minor(material, currency) for material in materials]
    by = PricedBy.MONEY
    if not all(minor):
        by = PricedBy.COUNT if len(materials) == 1 else PricedBy.AREA
    kept = tuple(source_of(piece) for piece in pieces)
    whole = tuple(
        _whole(m, price or 0, by) for m, price in zip(materials, minor, strict=True)
    )
    return (*kept, *whole), by


def source_of(piece: StockPiece) -> Source:
    """Return a kept piece as stock: it costs nothing, and there is one of it."""
    return Source(
        key=f"offcut {piece.code}",
        name=piece.code,
        material=str(piece.material_id),
        length_ticks=piece.length_ticks,
        width_ticks=piece.width_ticks,
        price=0,
        available=1,
        piece=str(piece.pk),
    )


def _minor(material: Material, currency: str) -> int:
    """Return the price of one in minor units; 0 where there is none."""
    price = material.unit_price
    if price is None:
        return 0
    rounded = round_money(Decimal(price), currency)
    return int(rounded.scaleb(minor_exponent(currency)))


def _whole(material: Material, minor: int, by: PricedBy) -> Source:
    length, width = material.length_ticks or 0, material.width_ticks or 0
    area = max(1, round(length * width / CM_TICKS**2))
    price = {PricedBy.MONEY: minor, PricedBy.COUNT: 1, PricedBy.AREA: area}[by]
    return Source(
        key=material.code,
        name=material.name,
        material=str(material.pk),
        length_ticks=length,
        width_ticks=width,
        price=price,
    )


def with_real_size(
    request: Request, material: str, *, length_ticks: int, width_ticks: int
) -> Request:
    """Return the request with whole ones of a material as they were measured."""
    return replace(
        request,
        sources=tuple(
            replace(each, length_ticks=length_ticks, width_ticks=width_ticks)
            if each.material == material and not each.is_piece
            else each
            for each in request.sources
        ),
    )


def with_saw(request: Request, plan: CutPlan) -> Request:
    """Return the request with the saw's settings of a plan."""
    return replace(
        request,
        kerf_ticks=plan.kerf_ticks,
        trim_ticks=plan.trim_ticks,
        halving=Halved(plan.halving or Halving.WHOLE),
        may_trim_strips=plan.may_trim_strips,
    )


def request_of(plan: CutPlan) -> Request:
    """Read back what a plan of wood was made from."""
    return frozen.read(Request, plan.request, "request")


def request_to_json(request: Request | ClothRequest) -> dict[str, Any]:
    """Return a request as it is kept with the plan."""
    kept: dict[str, Any] = frozen.to_json(request)
    return kept


def plan_of(plan: CutPlan) -> SheetPlan | BarPlan | None:
    """Read back what the solver found so far."""
    if not plan.result:
        return None
    read = bar_plan_from_json if plan.kind == CutKind.BARS else sheet_plan_from_json
    return read(plan.result["plan"])


def pieces_used(request: Request, found: SheetPlan | BarPlan) -> Iterator[str]:
    """Yield the ids of kept pieces that a plan cuts up."""
    for key in counts_of(found):
        source = request.source(key)
        if source.is_piece:
            yield source.piece


def counts_of(found: SheetPlan | BarPlan) -> dict[str, int]:
    """Count what is cut of each stock, by its key."""
    counts: dict[str, int] = {}
    used = (
        [(layout.sheet, layout.count) for layout in found.layouts]
        if isinstance(found, SheetPlan)
        else [(pattern.bar, pattern.count) for pattern in found.patterns]
    )
    for key, count in used:
        counts[key] = counts.get(key, 0) + count
    return counts
