"""A cut plan's request: stock, parts, panels, and what the saw takes; lengths in ticks."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from quotes.specs.engine.cutlist import CutPart
from shared.length import UnitSystem
from shared.nesting import (
    Bar,
    BarJob,
    BarPart,
    Halving,
    NestingError,
    Pair,
    Rect,
    Sheet,
    SheetJob,
)

SCHEMA = 1


class PricedBy(StrEnum):
    """What a plan makes least of."""

    MONEY = "money"
    COUNT = "count"  # no price known, one kind of stock
    AREA = "area"  # no price known of some of several kinds


@dataclass(frozen=True, slots=True)
class Source:
    """Stock to cut from: whole ones of a material, or one kept piece of it.

    ``price`` is what the plan reckons with: minor units, 1, or an area; ``available`` is
    None where more can be bought. ``piece`` is the kept piece's id.
    """

    key: str
    name: str
    material: str
    length_ticks: int
    width_ticks: int
    price: int
    available: int | None = None
    piece: str = ""

    @property
    def is_piece(self) -> bool:
        """Whether it is a kept piece."""
        return bool(self.piece)


@dataclass(frozen=True, slots=True)
class WantedPanel:
    """A panel whose parts are in the plan."""

    id: str
    code: str
    build: str
    build_name: str


@dataclass(frozen=True, slots=True)
class Request:
    """Everything that a cut plan of wood was made from.

    ``thickness_ticks`` is what the parts were taken off with.
    """

    sources: tuple[Source, ...]
    parts: tuple[CutPart, ...]
    panels: tuple[WantedPanel, ...]
    thickness_ticks: int
    priced_by: PricedBy
    units: UnitSystem
    kerf_ticks: int = 0
    trim_ticks: int = 0
    halving: Halving = Halving.WHOLE
    may_trim_strips: bool = True
    may_turn: bool = False
    schema: int = SCHEMA

    def source(self, key: str) -> Source:
        """Return the stock of a key."""
        return next(each for each in self.sources if each.key == key)

    def part(self, key: str) -> CutPart:
        """Return the part of a key."""
        return next(each for each in self.parts if each.key == key)

    @property
    def whole_sources(self) -> tuple[Source, ...]:
        """What is bought whole."""
        return tuple(each for each in self.sources if not each.is_piece)


def sheet_job(request: Request, halving: Halving | None = None) -> SheetJob:
    """Return the solver's job of sheets; raises `NestingError` for what can't be cut."""
    return SheetJob(
        sheets=tuple(
            Sheet(
                s.key,
                s.length_ticks,
                s.width_ticks,
                s.price,
                s.available,
                sawn=s.is_piece,
            )
            for s in request.sources
        ),
        parts=tuple(_rect(part, may_turn=request.may_turn) for part in request.parts),
        kerf_ticks=request.kerf_ticks,
        trim_ticks=request.trim_ticks,
        halving=halving or request.halving,
        may_trim_strips=request.may_trim_strips,
    )


def _rect(part: CutPart, *, may_turn: bool) -> Rect:
    pair = Pair(part.bevel_deg, part.thickness_ticks) if part.is_pair else None
    return Rect(
        part.key,
        part.length_ticks,
        part.width_ticks,
        part.count,
        may_turn=may_turn and not part.bevel_deg,
        pair=pair,
    )


def bar_job(request: Request) -> BarJob:
    """Return the solver's job of bars; raises `NestingError` for what can't be cut."""
    return BarJob(
        bars=tuple(
            Bar(s.key, s.length_ticks, s.price, s.available) for s in request.sources
        ),
        parts=tuple(BarPart(p.key, p.length_ticks, p.count) for p in request.parts),
        kerf_ticks=request.kerf_ticks,
        trim_ticks=request.trim_ticks,
    )


def owners_of(request: Request, refused: NestingError) -> str:
    """Say what a refusal's part is, and whose; nothing where no part is meant."""
    found = [part for part in request.parts if part.key == refused.key]
    if not found:
        return ""
    codes = {panel.id: panel.code for panel in request.panels}
    owners = list(dict.fromkeys(codes[share.panel] for share in found[0].shares))
    more = f" and {len(owners) - 3} more panels" if len(owners) > 3 else ""
    return f"It is the {found[0].label} of {', '.join(owners[:3])}{more}."
