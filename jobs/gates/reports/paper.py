"""What the paper says that a client signs for a fabric with."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from jobs.board.codes import runs_of
from jobs.board.models import Panel
from jobs.gates.models import Gate

DAYLIGHT = (
    "I have held a piece of this fabric in my hand, in daylight and under the lamps of the"
    " room where I could. It is the one that I want on the panels named above."
)
ONE_LOT = (
    "Cloth of one dyeing differs a little from cloth of the next. All cloth for these"
    " panels comes from one dye lot. A panel that is made or mended later may look a"
    " little different beside them."
)
SAMPLE = (
    "A small piece looks different from a whole wall of it, and threads that are a little"
    " thicker here and there belong to woven cloth."
)
AFTER = (
    "Once I have signed, this cloth is ordered and cut for me and can’t be given back. If"
    " I want another one after that, its price and the days that it takes are agreed in"
    " writing first."
)
NO_MORE = (
    "This paper is about the fabric alone. It changes nothing else that we agreed."
)


@dataclass(frozen=True, slots=True)
class PaperRow:
    """Panels of one room that are covered with it."""

    room: str
    codes: str
    count: int


@dataclass(frozen=True, slots=True)
class SignOff:
    """A fabric, the panels that it covers, and what the client agrees to."""

    gate: Gate
    name: str
    rows: tuple[PaperRow, ...]
    agreed: tuple[str, ...]

    @property
    def count(self) -> int:
        """How many panels it covers."""
        return sum(row.count for row in self.rows)


def sign_off(gate: Gate) -> SignOff:
    """Read what the paper of a fabric's gate says, from the job's panels. One query."""
    panels = Panel.objects.of_job(gate.job).with_cloth().order_by("number")
    own = [p for p in panels if p.cloth == str(gate.material_id or "")]  # type: ignore[attr-defined]
    name = own[0].fabric_name if own else gate.code
    return SignOff(
        gate=gate,
        name=name or str(gate.material or ""),
        rows=tuple(_rows(own)),
        agreed=(DAYLIGHT, ONE_LOT, SAMPLE, AFTER, NO_MORE),
    )


def _rows(panels: Iterable[Panel]) -> Iterator[PaperRow]:
    rooms: dict[str, list[str]] = {}
    for panel in panels:
        rooms.setdefault(panel.room_name, []).append(panel.code)
    for room, codes in rooms.items():
        yield PaperRow(room, runs_of(codes), len(codes))


def covering(gate: Gate, *, sender: str) -> dict[str, str]:
    """Return the mail that a fabric's paper goes with, to be changed before it goes."""
    details = gate.job.client.details
    what = gate.material.name if gate.material else gate.code
    return {
        "to": details.email,
        "subject": f"{gate.job.code}: please sign for the fabric",
        "body": (
            f"Dear {details.name},\n\nbefore we order the cloth for your panels, we ask"
            f" for your signature for {what}. The paper is attached: please sign it and"
            " send it back, a photo of it will do. If it is not the one you chose, ring"
            f" us before you sign.\n\n{sender}"
        ),
    }
