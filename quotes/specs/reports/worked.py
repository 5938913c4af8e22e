"""A build worked out at one size, with its drawings."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe

from quotes.specs import adapter
from quotes.specs.engine.drawing import Panel, Paper, panel_drawing, panel_thumbnail
from quotes.specs.engine.model import (
    Build,
    Hanging,
    NominalSize,
    Problem,
    Severity,
    Takeoff,
    TakeoffError,
)
from quotes.specs.models import BuildSpec
from quotes.specs.reports.tables import Named, Tables, tables_of
from shared.conventions import current
from shared.length import from_inches, from_mm, show_size
from shop.catalogue.models import Material, MaterialKind

_COLOUR = re.compile(r"#[0-9a-fA-F]{6}\Z")
THUMB_MM = 24.0
SHEET_MM = 176.0
"""As wide as A4 and Letter have room for, so that a drawing prints to its scales."""


@dataclass(frozen=True)
class Worked:
    """A build at one size: what went in and, unless it was refused, what came out."""

    spec: BuildSpec
    size: NominalSize
    build: Build | None
    materials: dict[str, Material]
    takeoff: Takeoff | None
    problems: tuple[Problem, ...]

    @property
    def refused(self) -> tuple[Problem, ...]:
        """Why there can be no such panel."""
        return tuple(p for p in self.problems if p.severity is Severity.REFUSE)

    @property
    def flags(self) -> tuple[Problem, ...]:
        """What a person should look at."""
        return tuple(p for p in self.problems if p.severity is Severity.FLAG)

    @property
    def fills_opening(self) -> bool:
        """Whether its nominal size is that of the opening it is made to fill."""
        return self.takeoff is not None and self.takeoff.hang.kind is Hanging.EDGE

    @property
    def nominal_words(self) -> str:
        """The size that people call it by: of an opening where it fills one."""
        return size_words(self.size)

    @property
    def made_words(self) -> str:
        """The size that it comes out at, with its fabric."""
        if self.takeoff is None:
            return ""
        made = self.takeoff.finished
        return size_words(NominalSize(made.width_ticks, made.height_ticks))

    @property
    def size_said(self) -> str:
        """Its size in a sentence, both sizes named where it fills an opening."""
        if self.fills_opening:
            return f"opening {self.nominal_words}, made {self.made_words}"
        return self.nominal_words

    @property
    def cloth(self) -> Material | None:
        """The front fabric, the panel's own or the build's."""
        key = self.build.front_fabric if self.build else None
        return self.materials.get(key) if key else None

    @property
    def names(self) -> dict[str, Named]:
        """What its materials are called, by key."""
        return {key: Named(m.name, m.unit) for key, m in self.materials.items()}

    def panel(self) -> Panel:
        """Return what the drawings are made from; only for what was not refused."""
        if self.takeoff is None or self.build is None:
            raise ValueError("a refused panel has no drawing")
        sheets = (k for k, m in self.materials.items() if m.kind == MaterialKind.SHEET)
        return Panel(self.takeoff, self.build.back_style, frozenset(sheets))

    def drawing(self, key: str, *, width_mm: float = SHEET_MM) -> str:
        """Draw front, back and section as one SVG; the key begins every id in it."""
        title = f"{self.spec.name}, {size_words(self.size)}"
        return panel_drawing(self.panel(), _paper(key, title, width_mm)).svg()

    def thumbnail(self, key: str) -> str:
        """Draw a small picture of the front as SVG."""
        title = f"{self.spec.name}, {size_words(self.size)}"
        paper = _paper(key, title, THUMB_MM, THUMB_MM)
        colour = self.cloth.colour if self.cloth else ""
        if _COLOUR.match(colour):
            return panel_thumbnail(self.panel(), paper, cloth=colour).svg()
        return panel_thumbnail(self.panel(), paper).svg()


def _paper(key: str, title: str, width_mm: float, height_mm: float = 130.0) -> Paper:
    conventions = current()
    return Paper(
        key=key,
        title=title,
        units=conventions.unit_system,
        fraction=conventions.fraction,
        width_mm=width_mm,
        height_mm=height_mm,
    )


def size_words(size: NominalSize) -> str:
    """Print a nominal size in the shop's units."""
    conventions = current()
    return show_size(
        size.width_ticks,
        size.height_ticks,
        units=conventions.unit_system,
        fraction=conventions.fraction,
    )


def usual_size() -> NominalSize:
    """Return the size that a build is shown at when none was asked for."""
    if current().is_metric:
        return NominalSize(from_mm(600), from_mm(1200))
    return NominalSize(from_inches(24), from_inches(48))


def work_out(
    spec: BuildSpec, size: NominalSize, *, fabric: Material | None = None
) -> Worked:
    """Take a build off at a size; refusals are in the result. No query with parts."""
    materials = adapter.materials_of(spec, fabric=fabric)
    build = None
    try:
        build = adapter.build_with(adapter.build_of(spec), fabric)
        takeoff = adapter.take_off_rows(spec, size, fabric=fabric)
    except TakeoffError as error:
        return Worked(spec, size, build, materials, None, error.problems)
    return Worked(spec, size, build, materials, takeoff, takeoff.problems)


@dataclass(frozen=True)
class Example:
    """A build as its page shows it at one size."""

    worked: Worked
    tables: Tables | None
    drawing: SafeString


def example_of(spec: BuildSpec, size: NominalSize) -> Example:
    """Work a build out and lay it out for its page. No query with parts."""
    worked = work_out(spec, size)
    if worked.takeoff is None:
        return Example(worked, None, SafeString(""))
    uses = {str(u.operation_id): u.operation.name for u in spec.operations.all()}
    drawing = mark_safe(worked.drawing("example"))  # noqa: S308 made by our own kernel
    return Example(worked, tables_of(worked.takeoff, worked.names, uses), drawing)


@dataclass(frozen=True)
class Preview:
    """What a form that is being filled would make."""

    worked: Worked

    @property
    def thumb(self) -> SafeString:
        """A small picture."""
        return mark_safe(self.worked.thumbnail("preview"))  # noqa: S308 our own kernel


@dataclass(frozen=True)
class BuildRow:
    """A build in the list, as it comes out at the usual size."""

    spec: BuildSpec
    worked: Worked

    @property
    def size(self) -> str:
        """The size it is worked out at."""
        return size_words(self.worked.size)

    @property
    def thumb(self) -> SafeString:
        """A small picture; nothing where that size is refused."""
        if self.worked.takeoff is None:
            return SafeString("")
        return mark_safe(self.worked.thumbnail(f"b{self.spec.pk.hex}"))  # noqa: S308


def builds_at_usual_size(specs: Iterable[BuildSpec]) -> tuple[BuildRow, ...]:
    """Work each build out at the size it is usually shown at. No query with parts."""
    size = usual_size()
    return tuple(BuildRow(spec, work_out(spec, size)) for spec in specs)
