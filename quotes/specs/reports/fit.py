"""Whether a panel fits its room at all: by the ceiling's height and the longest wall."""

from __future__ import annotations

from dataclasses import dataclass

from quotes.specs.engine.model import NominalSize
from quotes.specs.models import Hanging
from shared import length
from shared.conventions import current
from shop.surveys.models import Survey


@dataclass(frozen=True, slots=True)
class RoomSize:
    """What a survey says about how large a panel can be; nothing where it is silent."""

    height_ticks: int | None = None
    longest_ticks: int | None = None

    def too_big(self, size: NominalSize, *, hanging: str) -> dict[str, str]:
        """Say which side of a panel is larger than its room, by the side's name.

        A panel below the ceiling lies flat: neither of its sides stands upright.
        """
        said = {}
        if self.longest_ticks is not None and size.width_ticks > self.longest_ticks:
            said["width"] = f"Wider than the longest wall here, {_longest(self)}."
        if hanging == Hanging.CHAIN:
            if (
                self.longest_ticks is not None
                and size.height_ticks > self.longest_ticks
            ):
                said["height"] = f"Longer than the longest wall here, {_longest(self)}."
        elif self.height_ticks is not None and size.height_ticks > self.height_ticks:
            high = _words(self.height_ticks)
            said["height"] = f"Taller than the room, which is {high} high."
        return said


UNMEASURED = RoomSize()


def room_size(survey: Survey | None) -> RoomSize:
    """Read the largest height and length of a survey `with_parts()`. No query."""
    if survey is None:
        return UNMEASURED
    walls = survey.walls.all()
    heights = [survey.height_ticks, *(wall.height_ticks for wall in walls)]
    return RoomSize(
        height_ticks=max((each for each in heights if each is not None), default=None),
        longest_ticks=max(
            (wall.length_ticks for wall in walls if wall.length_ticks is not None),
            default=None,
        ),
    )


def _longest(room: RoomSize) -> str:
    return _words(room.longest_ticks or 0)


def _words(ticks: int) -> str:
    conventions = current()
    return length.show(
        ticks, units=conventions.unit_system, fraction=conventions.fraction
    )
