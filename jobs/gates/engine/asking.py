"""What to do next about each thing waited for, and who can help with it."""

from __future__ import annotations

from jobs.gates.engine.acts import Wait

NEXT_ACTS: dict[Wait, str] = {
    Wait.DEPOSIT: "Ask the client for the deposit.",
    Wait.FABRIC: "Have the client sign for code, colour and dye lot.",
    Wait.MEASURE: "Measure the openings again, once paint and trim are done.",
    Wait.LANDLORD: "Get the landlord’s consent in writing, by way of the client.",
    Wait.FIRE: "Ask the supplier for the fire papers, or choose another material.",
}

MEASURED = "Every opening is measured: say so here."
"""What is left to do when sizes came in and nobody opened the gate."""

PROOFS: dict[Wait, str] = {
    Wait.DEPOSIT: "As in: by transfer, 12 March, statement 3.",
    Wait.FABRIC: "As in: signed paper in the job’s folder.",
    Wait.MEASURE: "As in: after the painters, by Otto.",
    Wait.LANDLORD: "As in: letter of 12 March, in the job’s folder.",
    Wait.FIRE: "As in: the maker’s test report, its number and date.",
}
"""How what was seen is written down, by an example."""

ON_FILE = "Papers are on file by now: look at them, and say so here."
"""What is left to do when the stores learnt of papers and nobody opened the gate."""

NEEDS_PROOF = frozenset({Wait.DEPOSIT, Wait.LANDLORD, Wait.FIRE})
"""What is only in hand when somebody can find it again."""


def next_act(wait: str, *, left: bool = True, on_file: bool = False) -> str:
    """Return what to do.

    `left` says whether an opening is still to be measured; `on_file`, whether the stores
    hold fire papers of the material by now.
    """
    if wait == Wait.MEASURE and not left:
        return MEASURED
    if wait == Wait.FIRE and on_file:
        return ON_FILE
    return NEXT_ACTS[Wait(wait)]
