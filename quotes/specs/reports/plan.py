"""What pages show of a room's planned panels."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cached_property

from django.utils.safestring import SafeString, mark_safe

from quotes.specs import adapter
from quotes.specs.engine.model import NominalSize
from quotes.specs.models import BuildSpec, PlannedPanel
from quotes.specs.reports.worked import Worked, size_words, work_out
from shop.catalogue.models import Material
from shop.surveys.models import Axis, Opening, Room, Survey


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
    def thumb(self) -> SafeString:
        """A small picture, empty where the size is refused."""
        if self.worked.takeoff is None:
            return SafeString("")
        picture = self.worked.thumbnail(f"t{self.first.pk.hex}")
        return mark_safe(picture)  # noqa: S308 made by our own kernel


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


def group_of(panel: PlannedPanel) -> PanelGroup:
    """Group the panels like this one, or show it alone once it was taken out."""
    alike = PlannedPanel.objects.live().like(panel).with_fabric().with_room()
    groups = group_panels(alike) or group_panels([panel])
    taken = panel.committed_at is not None
    return next((g for g in groups if g.is_committed is taken), groups[0])


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
