"""What is in a room as its pages and papers list it: finishes, furniture, places."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shared.quantities import AREA
from shop.surveys import adapter
from shop.surveys.adapter.inside import spots_in, surfaces_of
from shop.surveys.engine.seats import ITEMS
from shop.surveys.engine.spots import holds
from shop.surveys.engine.surfaces import WORDS, Piece, Surfaces
from shop.surveys.models import Covering, Furniture, Spot, Survey


@dataclass(frozen=True, slots=True)
class CoveringRow:
    """A finish as noted, and what it lies on."""

    covering: Covering
    place: str

    @property
    def finish(self) -> str:
        """The finish's name; a word where none is chosen."""
        chosen = self.covering.finish
        return chosen.name if chosen else "no finish chosen"

    @property
    def is_part(self) -> bool:
        """Whether it has a size of its own."""
        return bool(self.covering.width_ticks or self.covering.height_ticks)

    @property
    def change_label(self) -> str:
        """What the button says that changes it."""
        return f"Change {self.finish}, {self.place}"

    @property
    def remove_label(self) -> str:
        """What the button says that takes it out."""
        return f"Take out {self.finish}, {self.place}"


@dataclass(frozen=True, slots=True)
class FurnitureRow:
    """How many of a kind there are, and whether anybody says what one swallows."""

    row: Furniture
    is_sourced: bool


@dataclass(frozen=True, slots=True)
class SpotRow:
    """A place in the room."""

    spot: Spot

    @property
    def label(self) -> str:
        """Its name with what it is."""
        kind = self.spot.get_kind_display()
        return f"{self.spot.name}, {kind}" if self.spot.name else kind

    @property
    def change_label(self) -> str:
        """What the button says that changes it."""
        return f"Change {self.label}"

    @property
    def remove_label(self) -> str:
        """What the button says that takes it out."""
        return f"Take out {self.label}"


@dataclass(frozen=True, slots=True)
class Inside:
    """What is in a room."""

    coverings: tuple[CoveringRow, ...]
    furniture: tuple[FurnitureRow, ...]
    spots: tuple[SpotRow, ...]
    surfaces: Surfaces | None
    told: tuple[str, ...]
    later: tuple[str, ...]

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """Each surface's pieces with their areas; none while there is no plan."""
        return self.surfaces.pieces if self.surfaces else ()


def inside(survey: Survey) -> Inside:
    """Return what is in a room, of a survey that came `with_inside()`. No query."""
    found = surfaces_of(survey)
    return Inside(
        coverings=tuple(_covering_rows(survey)),
        furniture=tuple(
            FurnitureRow(row, ITEMS[row.kind].areas_m2 is not None)
            for row in survey.furniture.all()
            if row.count
        ),
        spots=tuple(SpotRow(spot) for spot in survey.spots.all()),
        surfaces=found,
        told=tuple(told(survey, found)),
        later=tuple(later(survey, found)),
    )


def _covering_rows(survey: Survey) -> Iterator[CoveringRow]:
    """List finishes in the order of the walk, ceiling and floor last, the whole first."""
    names: dict[object, str] = {}
    for wall in survey.walls.all():
        names[wall.pk] = f"wall {wall.name}"
        for opening in wall.openings.all():
            names[opening.pk] = adapter.label_of(opening, wall)
    places = ["all walls", *names.values(), "ceiling", "floor"]
    rows = [
        CoveringRow(
            covering,
            names.get(
                covering.wall_id or covering.opening_id, covering.get_surface_display()
            ),
        )
        for covering in survey.coverings.all()
    ]
    yield from sorted(rows, key=lambda row: (places.index(row.place), row.is_part))


def told(survey: Survey, found: Surfaces | None) -> Iterator[str]:
    """Say what contradicts itself in finishes and places."""
    for excess in found.excesses if found else ():
        areas = (AREA.rounded(excess.taken_m2), AREA.rounded(excess.there_m2))
        yield WORDS["excess"].format(*areas, name=_the(excess.surface))
    for name in found.twice if found else ():
        yield WORDS["twice"].format(name=_the(name))
    room = adapter.room_in(survey)
    for spot in spots_in(survey) if room else ():
        if room and not holds(room, spot):
            name = spot.name[:1].upper() + spot.name[1:]
            yield WORDS["outside"].format(name=name)


def _the(name: str) -> str:
    return name if name.startswith(("all ", "wall ")) else f"the {name}"


def later(survey: Survey, found: Surfaces | None) -> Iterator[str]:
    """Say what a later step will ask for, though the survey is whole without it."""
    if found and found.bare:
        bare = ", ".join(_the(name) for name in found.bare)
        key = "bare" if len(found.bare) == 1 else "bare_all"
        yield WORDS[key].format(name=bare)
    for name in found.unread if found else ():
        yield WORDS["other_side"].format(name=name)
    kinds = {spot.kind for spot in survey.spots.all()}
    if not kinds & {"seat", "source", "loudspeaker"}:
        yield WORDS["placing"]
