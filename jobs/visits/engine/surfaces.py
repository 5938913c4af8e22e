"""What has to be drilled, and with what: by what walls and ceilings are made of."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from jobs.visits.engine.model import ON_WALLS, Holding, Load, VanRoom
from jobs.visits.engine.words import listed

MASONRY = frozenset({"brick", "block", "concrete"})
WOODEN = frozenset({"board_wood", "lath", "timber"})
UNDRILLED = frozenset({"grid", "glass", "isolated"})
"""Nothing is screwed into these: the load path says so too."""

NAMES = {
    "": "not looked at yet",
    "board_wood": "board on wood framing",
    "board_metal": "board on metal framing",
    "lath": "plaster on lath",
    "brick": "brick",
    "block": "block",
    "concrete": "concrete",
    "timber": "solid timber",
    "grid": "a suspended grid",
    "glass": "glass",
    "isolated": "on resilient mounts",
}


@dataclass(frozen=True, slots=True)
class Surface:
    """A wall or a ceiling that holes go into, as far as is known."""

    room: str
    part: str
    made_of: str
    room_id: str = ""

    @property
    def words(self) -> str:
        """Print it as a reason: Front room, walls: brick."""
        return f"{self.room}, {self.part}: {NAMES.get(self.made_of, self.made_of)}"


def drilled(load: Load) -> tuple[Surface, ...]:
    """Give each surface that these panels may be fixed to, once."""
    rooms = {room.id: room for room in load.rooms}
    wanted = dict.fromkeys(
        (panel.room_id, panel.holding)
        for panel in load.panels
        if panel.room_id in rooms
    )
    found = (
        surface
        for room, holding in wanted
        for surface in _surfaces(rooms[room], holding)
    )
    return tuple(dict.fromkeys(found))


def _surfaces(room: VanRoom, holding: Holding) -> Iterator[Surface]:
    if holding is Holding.CHAIN:
        yield Surface(room.name, "ceiling", room.ceiling, room.id)
    if holding in ON_WALLS:
        for made_of in sorted(room.walls):
            yield Surface(room.name, "walls", made_of, room.id)


def made_of(surfaces: Iterable[Surface], kinds: frozenset[str]) -> tuple[Surface, ...]:
    """Give the surfaces of these kinds, and those that nobody has looked at."""
    return tuple(s for s in surfaces if s.made_of in kinds or not s.made_of)


def because(surfaces: Iterable[Surface]) -> str:
    """Print surfaces as the reason for a tool."""
    return listed(surface.words for surface in surfaces)
