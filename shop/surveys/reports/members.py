"""Found studs and joists as the page lists them, each with how far it is from the last."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shop.surveys.models import Member, Survey, Wall


@dataclass(frozen=True, slots=True)
class MemberRow:
    """A stud or joist, and how far its centre is from the one before on its surface."""

    member: Member
    place: str
    number: int
    from_last_ticks: int | None

    @property
    def label(self) -> str:
        """Tell it from the others."""
        return f"{self.member} {self.number}, {self.place}"

    @property
    def change_label(self) -> str:
        """What the button says that changes it."""
        return f"Change {self.label}"

    @property
    def remove_label(self) -> str:
        """What the button says that takes it out."""
        return f"Take out {self.label}"


def member_rows(survey: Survey, walls: Sequence[Wall]) -> Iterator[MemberRow]:
    """Return what was found, wall by wall, the ceiling last, each from left to right."""
    found = sorted(survey.members.all(), key=_place)
    surfaces = [(wall.pk, f"wall {wall.name}") for wall in walls]
    for key, place in (*surfaces, (None, "ceiling")):
        last: int | None = None
        here = [member for member in found if member.wall_id == key]
        for number, member in enumerate(here, start=1):
            at = member.at_ticks
            apart = None if at is None or last is None else at - last
            yield MemberRow(member, place, number, apart)
            last = at


def _place(member: Member) -> tuple[bool, int]:
    """Sort by the centre; what was not read comes last."""
    return member.at_ticks is None, member.at_ticks or 0
