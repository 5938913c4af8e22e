"""What pages and papers show of builds and planned panels."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cached_property

from quotes.specs import adapter
from quotes.specs.engine.drawing import Panel, Paper, panel_drawing, panel_thumbnail
from quotes.specs.engine.model import (
    Build,
    NominalSize,
    Problem,
    Severity,
    Takeoff,
    TakeoffError,
)
from quotes.specs.models import BuildSpec, PlannedPanel
from shared.conventions import current
from shared.length import from_inches, from_mm, show_size
from shop.catalogue.models import Material, MaterialKind
from shop.surveys.models import Axis, Opening, Room, Survey

_COLOUR = re.compile(r"#[0-9a-fA-F]{6}\Z")
THUMB_MM = 24.0


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
    def cloth(self) -> Material | None:
        """The front fabric, the panel's own or the build's."""
        key = self.build.front_fabric if self.build else None
        return self.materials.get(key) if key else None

    def panel(self) -> Panel:
        """Return what the drawings are made from; only for what was not refused."""
        if self.takeoff is None or self.build is None:
            raise ValueError("a refused panel has no drawing")
        sheets = (k for k, m in self.materials.items() if m.kind == MaterialKind.SHEET)
        return Panel(self.takeoff, self.build.back_style, frozenset(sheets))

    def drawing(self, key: str, *, width_mm: float = 180.0) -> str:
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
class PanelGroup:
    """Planned panels of one room that are alike: build, size, fabric, opening."""

    panels: tuple[PlannedPanel, ...]
    worked: Worked
    is_committed: bool
    fabric: Material | None = field(default=None)

    @property
    def first(self) -> PlannedPanel:
        """The panel that stands for the group in addresses."""
        return self.panels[0]

    @property
    def key(self) -> str:
        """What the group is called in a snapshot, and on a page."""
        return str(self.first.pk)

    @property
    def count(self) -> int:
        """How many panels it is."""
        return len(self.panels)

    @property
    def size(self) -> str:
        """The nominal size in the shop's units."""
        return size_words(self.worked.size)

    @property
    def notes(self) -> tuple[str, ...]:
        """What was noted, each once."""
        return tuple(dict.fromkeys(p.note for p in self.panels if p.note))

    @property
    def opening(self) -> Opening | None:
        """The opening that the panel fills."""
        return self.first.opening

    @cached_property
    def thumb(self) -> str:
        """A small picture, empty where the size is refused."""
        if self.worked.takeoff is None:
            return ""
        return self.worked.thumbnail(f"t{self.first.pk.hex}")


def group_panels(panels: Iterable[PlannedPanel]) -> tuple[PanelGroup, ...]:
    """Group panels by room, build, size and fabric, each taken off once.

    Eight queries at most for any number of panels that come `with_fabric()`.
    """
    listed = list(panels)
    specs = BuildSpec.objects.with_parts().in_bulk({p.spec_id for p in listed})
    alike: dict[tuple[object, ...], list[PlannedPanel]] = {}
    for panel in listed:
        alike.setdefault(_likeness(panel), []).append(panel)
    return tuple(_group(specs[g[0].spec_id], g) for g in alike.values())


def _likeness(panel: PlannedPanel) -> tuple[object, ...]:
    return (
        panel.room_id,
        panel.spec_id,
        panel.width_ticks,
        panel.height_ticks,
        panel.fabric_id,
        panel.opening_id,
        panel.committed_at is not None,
    )


def _group(spec: BuildSpec, panels: list[PlannedPanel]) -> PanelGroup:
    first = panels[0]
    return PanelGroup(
        panels=tuple(panels),
        worked=work_out(spec, adapter.size_of(first), fabric=first.fabric),
        is_committed=first.committed_at is not None,
        fabric=first.fabric,
    )


def groups_in_room(room: Room) -> tuple[PanelGroup, ...]:
    """Group the live panels of a room; nine queries at most."""
    return group_panels(PlannedPanel.objects.in_room(room).live().with_fabric())


@dataclass(frozen=True, slots=True)
class MeasuredOpening:
    """An opening with the size that its smallest readings leave."""

    opening: Opening
    size: NominalSize
    width_text: str
    height_text: str

    @property
    def label(self) -> str:
        """How a person picks it."""
        return f"{self.opening.wall.name}, {self.opening}: {size_words(self.size)}"


def measured_openings(room: Room) -> tuple[MeasuredOpening, ...]:
    """Return the newest survey's openings that have both readings. Four queries."""
    survey = room.surveys.newest_first().with_parts().first()
    return tuple(_measured(survey)) if survey else ()


def _measured(survey: Survey) -> Iterator[MeasuredOpening]:
    for wall in survey.walls.all():
        for opening in wall.openings.all():
            opening.wall = wall  # spares a query for each label
            readings = list(opening.readings.all())
            wide = [r for r in readings if r.axis == Axis.WIDTH]
            high = [r for r in readings if r.axis == Axis.HEIGHT]
            if wide and high:
                width = min(wide, key=lambda reading: reading.ticks)
                height = min(high, key=lambda reading: reading.ticks)
                size = NominalSize(width.ticks, height.ticks)
                yield MeasuredOpening(opening, size, width.text, height.text)
