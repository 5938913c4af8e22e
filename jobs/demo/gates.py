"""What the demo's jobs wait for: much in hand, one gone past, some still to come."""

from __future__ import annotations

import datetime as dt

from jobs.board.models import Job
from jobs.demo.people import Cast
from jobs.gates.actions import Seen, override_gate, pass_gate
from jobs.gates.models import Gate, GateKind
from shop.people.models import Person

DAY = dt.timedelta(days=1)

SIGNED = {
    "harbour-moss": ("moss", "B 2207"),
    "harbour-sand": ("sand", "B 2191"),
}
"""Colour and dye lot of the café's cloths that Mara has signed for, by code."""

PAPERS = (*SIGNED, "wool", "back-cloth")
"""What the café has fire papers of, by code."""


def say_what_came(cast: Cast, at: dt.datetime) -> None:
    """Write down what came for each job so far."""
    music, cafe = Job.objects.order_by("opened_at")
    for gate in Gate.objects.of_job(music):
        seen = _seen(gate)
        _came(gate, seen, by=cast.office, at=at - 49 * DAY)
    for gate in Gate.objects.of_job(cafe):
        _cafe(gate, cast, at)


def _cafe(gate: Gate, cast: Cast, at: dt.datetime) -> None:
    """Say what came for the café; two cloths and their papers are still to come."""
    if gate.kind == GateKind.DEPOSIT:
        _came(gate, _seen(gate), by=cast.office, at=at - 25 * DAY)
    elif gate.kind == GateKind.MEASURE:
        seen = Seen(reference="after the painters, with two tapes")
        _came(gate, seen, by=cast.fitter, at=at - 20 * DAY)
    elif gate.kind == GateKind.LANDLORD:
        reason = "He agreed on the telephone; his letter is to follow."
        when = at - 24 * DAY
        override_gate(gate, reason=reason, seen=gate.state, by=cast.owner, at=when)
    elif gate.kind == GateKind.FABRIC and gate.code in SIGNED:
        seen = _seen(gate)
        _came(gate, seen, by=cast.office, at=at - 23 * DAY)
    elif gate.kind == GateKind.FIRE and gate.code in PAPERS:
        seen = Seen(reference="the maker’s report, in the job’s folder")
        _came(gate, seen, by=cast.office, at=at - 22 * DAY)


def _seen(gate: Gate) -> Seen:
    if gate.kind == GateKind.DEPOSIT:
        return Seen(reference="by transfer, the day after the yes")
    colour, lot = SIGNED.get(gate.code, ("as the swatch on file", "B 2188"))
    return Seen(gate.code, colour, lot, reference="signed paper in the job’s folder")


def _came(gate: Gate, seen: Seen, *, by: Person, at: dt.datetime) -> None:
    pass_gate(gate, seen, seen=gate.state, by=by, at=at)
