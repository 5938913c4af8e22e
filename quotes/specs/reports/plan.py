"""What pages show of a room's planned panels."""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from django.utils.safestring import SafeString, mark_safe

from quotes.specs import adapter
from quotes.specs.engine.model import NominalSize
from quotes.specs.models import BuildSpec, PlannedPanel
from quotes.specs.reports.fit import UNMEASURED, RoomSize
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
    room_size: RoomSize = UNMEASURED

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
        """The size in a sentence; both sizes where it fills an opening."""
        return self.worked.size_said

    @property
    def too_big(self) -> tuple[str, ...]:
        """In what the panel is larger than its room, in sentences."""
        hanging = self.worked.spec.hanging
        return tuple(self.room_size.too_big(self.worked.size, hanging=hanging).values())

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


def group_panels(
    panels: Iterable[PlannedPanel],
    *,
    room_sizes: Mapping[uuid.UUID, RoomSize] | None = None,
) -> tuple[PanelGroup, ...]:
    """Group panels by room, build, size and fabric, each taken off once.

    Eight queries at most for any number of panels that come `with_fabric()`.
    """
    sizes = room_sizes or {}
    listed = list(panels)
    specs = BuildSpec.objects.with_parts().in_bulk({p.spec_id for p in listed})
    alike: dict[tuple[object, ...], list[PlannedPanel]] = {}
    for panel in listed:
        alike.setdefault(_likeness(panel), []).append(panel)
    return tuple(
        _group(specs[g[0].spec_id], g, sizes.get(g[0].room_id, UNMEASURED))
        for g in alike.values()
    )


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


def _group(
    spec: BuildSpec, panels: list[PlannedPanel], room_size: RoomSize
) -> PanelGroup:
    first = panels[0]
    return PanelGroup(
        panels=tuple(panels),
        worked=work_out(spec, adapter.size_of(first), fabric=first.fabric),
        is_committed=first.committed_at is not None,
        fabric=first.fabric,
        room_size=room_size,
    )


def groups_in_room(
    room: Room, *, size: RoomSize = UNMEASURED
) -> tuple[PanelGroup, ...]:
    """Group the live panels of a room; nine queries at most."""
    panels = PlannedPanel.objects.in_room(room).live().with_fabric()
    return group_panels(panels, room_sizes={room.pk: size})


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


def measured_openings(survey: Survey | None) -> tuple[MeasuredOpening, ...]:
    """Return the openings of a survey `with_parts()` that have both readings."""
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
