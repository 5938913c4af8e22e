"""The load path of a panel, element by element, and in plain words what is missing."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from functools import singledispatch

from quotes.safety.engine.model import (
    Building,
    Element,
    Frame,
    Hardware,
    Held,
    Hung,
    LoadPath,
    Member,
    OnBattens,
    OnCleats,
    Verdict,
)
from quotes.safety.engine.statics import (
    cleat_screw_load,
    springy_shares_n,
    two_point_share_n,
    weight_n,
)
from shared.length import UnitSystem
from shared.units import N_PER_LBF

# Common practice; a grid is rated for its own tiles, mounts work while nothing bridges them.
HOLDS_NOTHING = {
    "grid": "the {surface} is a suspended grid, which carries its own tiles only",
    "glass": "the {surface} is glass, which nothing is fixed into",
    "isolated": "the {surface} is on resilient mounts, which one screw would bridge",
}
SOLID = frozenset({"brick", "block", "concrete", "timber"})
"""What carries by itself: there is no framing to find, but a load to be stated."""
WEIGHED = "The weight is worked out from the build: weigh a finished panel."


def load_path(held: Held, *, units: UnitSystem = UnitSystem.METRIC) -> LoadPath:
    """Work out what each element must hold, and whether the panel may be cleared.

    Cleared only if every element carries a working load with its source and each is
    enough. Nothing is assumed to hold anything.

    Parameters
    ----------
    held : the panel, by how it hangs. units : how loads in sentences are printed.

    Returns
    -------
    LoadPath, elements from the building to the panel's corners, loads in newtons.

    Raises
    ------
    SafetyError for figures that no path follows from. Not checked: whether a source is
    right, whether a wall may be weakened, earthquakes, anything that rests on the panel.
    """
    weight = weight_n(held.mass_kg)
    elements = tuple(_elements(held, weight))
    return LoadPath(
        weight_n=weight,
        elements=elements,
        missing=(*_missing(elements, units), *_slack(held, weight)),
        assumed=_assumed(held),
    )


@singledispatch
def _elements(held: object, weight: float) -> Iterable[Element]:
    raise TypeError(held)


@_elements.register
def _of_hung(held: Hung, weight: float) -> Iterator[Element]:
    share = two_point_share_n(weight, held.angle_deg)
    yield _framing(held.building, share)
    if not held.hardware:
        yield _unnamed("part that it hangs by", share)
    for part in held.hardware:
        yield _part(part, share, _unfit(part, len(held.points)))
    yield from _frame(held.frame, share, "blocking behind the hanging points")


def _unfit(part: Hardware, points: int) -> str:
    """Say why a part holds nothing overhead, however it is rated; nothing if it may.

    A point without a piece of its own does not hold, so the others hold more than was
    worked out. How much chain a point takes hangs on the drop: metres say nothing here.
    """
    if part.hollow:
        return f"the {part.name} holds in board alone, which never carries overhead"
    if none := _none_of(part):
        return none
    if part.unit == "each" and part.count < points:
        return f"{part.count:g} × {part.name} for {points} points: each needs its own"
    return ""


def _none_of(part: Hardware) -> str:
    """Say why no panel has any of a part, which then holds nothing; else nothing."""
    if part.per_job:
        return (
            f"the {part.name} is counted once for the whole job: how much of it this"
            " panel has is not known"
        )
    if part.count > 0:
        return ""
    if part.unit == "m":
        return f"no drop given yet: 0 m of {part.name} hold nothing"
    return f"the panel has none of the {part.name}"


@_elements.register
def _of_cleats(held: OnCleats, weight: float) -> Iterator[Element]:
    """Give a screw its share of all; anything else must hold the panel alone."""
    screws = [part for part in held.hardware if part.each_hole]
    count = int(sum(part.count for part in screws))
    if not count:
        yield _unnamed("screw for its wall cleat", weight)
        return
    each = cleat_screw_load(
        weight,
        screws=count,
        off_wall_m=held.off_wall_m,
        arm_m=held.arm_m,
        bevel_deg=held.bevel_deg,
    ).together_n
    yield _framing(held.building, each)
    for part in held.hardware:
        must = each if part.each_hole else each * count
        yield _part(part, must, _none_of(part))
    yield from _frame(held.frame, weight, "pair of cleats")


@_elements.register
def _of_battens(held: OnBattens, weight: float) -> Iterator[Element]:
    def share(part: Hardware) -> float:
        return weight / part.count if part.count > 0 else weight

    yield _framing(held.building, max(map(share, held.hardware), default=weight))
    if not held.hardware:
        yield _unnamed("part that joins it to its battens", weight)
    for part in held.hardware:
        yield _part(part, share(part), _none_of(part))


def _part(part: Hardware, must_hold: float, wrong: str = "") -> Element:
    return Element(
        Member.HARDWARE, part.name, must_hold, part.rating, wrong, part.subject
    )


def _unnamed(what: str, must_hold: float) -> Element:
    wrong = f"the build names no {what}"
    return Element(Member.HARDWARE, what, must_hold, wrong=wrong)


def _framing(building: Building, must_hold: float) -> Element:
    """Give the building; wrong only where each surface it may be holds nothing."""
    made_of = building.constructions
    wrong = ""
    if made_of and made_of <= set(HOLDS_NOTHING):
        wrong = HOLDS_NOTHING[min(made_of)].format(surface=building.surface)
    solid = made_of and made_of <= SOLID
    name = (
        f"{building.surface} itself" if solid else f"framing of the {building.surface}"
    )
    return Element(
        Member.FRAMING, name, must_hold, building.rating, wrong, building.subject
    )


def _frame(frame: Frame, must_hold: float, name: str) -> Iterator[Element]:
    """Give the panel's own wood and corners: how they are made goes before a rating."""
    bare = "" if frame.blocked else "there is no blocking behind the hanging points"
    yield Element(Member.FRAME, name, must_hold, frame.rating, bare, frame.subject)
    dry = "" if frame.glued else "the frame’s corners are not glued"
    yield Element(
        Member.JOINT,
        "frame’s corners",
        must_hold,
        frame.joint_rating,
        dry,
        frame.joint_subject,
    )


def _missing(elements: Iterable[Element], units: UnitSystem) -> Iterator[str]:
    for element in elements:
        match element.verdict:
            case Verdict.WRONG:
                yield element.wrong
            case Verdict.UNRATED if element.name.startswith("framing"):
                yield f"the {element.name} has not been found"
            case Verdict.UNRATED:
                yield f"no rating for the {element.name}"
            case Verdict.TOO_LITTLE:
                yield _too_little(element, units)


def _too_little(element: Element, units: UnitSystem) -> str:
    """Round apart, so that the two figures never look alike."""
    rated = element.rating.load_n if element.rating else 0.0
    unit, size = ("N", 1.0) if units is UnitSystem.METRIC else ("lbf", N_PER_LBF)
    must, may = math.ceil(element.must_hold_n / size), math.floor(rated / size)
    return f"the {element.name} is rated {may} {unit} and must hold {must} {unit}"


def _slack(held: Held, weight: float) -> Iterator[str]:
    if isinstance(held, Hung):
        shares = springy_shares_n(weight, held.points, held.centre)
        if min(shares) < 0:
            yield "it balances outside its hanging points, so that a chain hangs slack"


def _assumed(held: Held) -> tuple[str, ...]:
    if isinstance(held, Hung):
        lean = (
            f"{held.angle_deg:g}° from upright" if held.angle_deg else "straight down"
        )
        return (
            "Two opposite points alone must hold the whole panel, since four chains never"
            " share evenly.",
            f"Chains hang {lean}.",
            WEIGHED,
        )
    if isinstance(held, OnCleats):
        return (
            "Each screw’s share of the weight and of the outward pull are added; no"
            " friction is counted on.",
            WEIGHED,
        )
    return (
        "Each kind of part shares the weight evenly; peeling is not counted.",
        WEIGHED,
    )
