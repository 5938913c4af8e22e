"""What has to be said at the first talk, and why: panels, landlords, papers, old paint.

Sources for the limits are named beside them; local codes and licensed trades decide.
"""

from __future__ import annotations

from dataclasses import dataclass

LEAD_PAINT_BEFORE = 1978
"""Homes before this year may carry lead paint (40 CFR 745.83, United States)."""

ASBESTOS_BEFORE = 1986
"""Ceilings before about the mid-1980s may hold asbestos (EPA homeowner guidance)."""


@dataclass(frozen=True, slots=True)
class Told:
    """What is known of an enquiry and its place.

    `tenant` and `shared_use` (a workplace, or open to the public) are None until asked.
    `year_built` is None when unknown, which counts as old.
    """

    noise_comes_through: bool = False
    tenant: bool | None = None
    shared_use: bool | None = None
    year_built: int | None = None


@dataclass(frozen=True, slots=True)
class Caution:
    """One thing to say, with a short title; `key` names it in tests and documents."""

    key: str
    title: str
    text: str


SOUNDPROOF = Caution(
    "soundproof",
    "Panels do not stop noise that comes through",
    "They take the ring out of a room. Noise through walls, floor, ceiling or door stays as"
    " loud as it is: say so now, before anything is promised. Stopping it is building work"
    " for somebody else.",
)
LANDLORD = Caution(
    "landlord",
    "Ask for the landlord’s permission in writing",
    "Holes in walls and ceilings need it, and it often says who mends them.",
)
FIRE_PAPERS = Caution(
    "fire_papers",
    "Fire papers are asked for here",
    "Rented, working and public rooms limit fabric, fill and build. Ask which papers the"
    " building official or the landlord wants, before a fabric is chosen. Local code"
    " decides.",
)
OLD = Caution(
    "old",
    "Old paint and ceilings: test before drilling",
    "The building is old, or nobody knows its year. Before"
    f" {LEAD_PAINT_BEFORE} paint may hold lead; an old or textured ceiling from before about"
    f" {ASBESTOS_BEFORE} may hold asbestos. Don’t drill, sand or scrape until a laboratory"
    " has tested it. Some countries used both for longer: local code decides.",
)

SHOWN: tuple[tuple[dict[str, tuple[str, ...]], Caution], ...] = (
    ({"noise": ("yes",)}, SOUNDPROOF),
    ({"tenant": ("yes",)}, LANDLORD),
    ({"papers": ("yes",)}, FIRE_PAPERS),
    ({"old": ("yes",)}, OLD),
)
"""Each caution with what triggers it, as data: devices ask the same."""


def cautions(told: Told) -> tuple[Caution, ...]:
    """Return what has to be said, the most disappointing first.

    Parameters
    ----------
    told
        What is known so far.

    Returns
    -------
    tuple of Caution
        Those whose trigger is present; an unknown year is a trigger, an unasked tenure
        or use is not.
    """
    known = {
        "noise": told.noise_comes_through,
        "tenant": bool(told.tenant),
        "papers": bool(told.tenant) or bool(told.shared_use),
        "old": told.year_built is None or told.year_built < ASBESTOS_BEFORE,
    }
    return tuple(
        caution for when, caution in SHOWN if all(known[trigger] for trigger in when)
    )
