"""The order of work on site, for what these panels ask: common practice, no source."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from jobs.visits.engine.model import DRILLED, ON_WALLS, Holding

VERSION = "site order 1"


@dataclass(frozen=True, slots=True)
class Step:
    """One step on site."""

    key: str
    title: str
    detail: str


def order_on_site(holdings: Iterable[Holding]) -> tuple[Step, ...]:
    """Give the steps in order: overhead first, all holes, clean up, only then fabric."""
    ways = frozenset(holdings)
    return (*_before(ways), *_fixing(ways), *_fabric(ways), *_after(ways))


def _before(ways: frozenset[Holding]) -> Iterator[Step]:
    yield Step(
        "cover", "Cover up", "Sheets on floor and furniture. Panels stay wrapped."
    )
    if ways & DRILLED:
        yield Step(
            "line",
            "Set one laser line",
            "Write each height as plus or minus that line, not from the floor.",
        )
    yield Step(
        "nod",
        "Tape up the positions",
        "The client looks and nods before the first hole.",
    )


def _fixing(ways: frozenset[Holding]) -> Iterator[Step]:
    if ways & DRILLED:
        yield Step(
            "find",
            "Find framing and what is hidden",
            "Scan each hole for wires and pipes; switch off the circuit near them.",
        )
    if Holding.CHAIN in ways:
        yield Step(
            "overhead",
            "Overhead work first",
            "All ceiling fixings, into framing. Nothing hangs yet.",
        )
    if ways & ON_WALLS:
        yield Step(
            "holes",
            "Drill all the rest",
            "Cleats and battens up and level, tugged hard by hand.",
        )
    if ways & DRILLED:
        yield Step(
            "clean", "Clean up", "Vacuum everything, wash hands, clean gloves on."
        )


def _fabric(ways: frozenset[Holding]) -> Iterator[Step]:
    yield Step("unwrap", "Unwrap the fabric now", "One panel at a time, by its code.")
    if Holding.CHAIN in ways:
        yield Step(
            "hang",
            "Hang the overhead panels",
            "Two people or a lift. Close and lock each link, then tug each point.",
        )
    if Holding.CLEAT in ways:
        yield Step(
            "hook",
            "Hook on the wall panels",
            "Lift over the bevel, lower, slide until it is in line, tug outwards.",
        )
    if Holding.BATTENS in ways:
        yield Step("seat", "Seat the corner panels", "Press each pad home.")
    if Holding.EDGE in ways:
        yield Step(
            "reveal",
            "Press in the reveal panels",
            "Pull tabs stay in reach; lift one out once and put it back.",
        )
    if Holding.FEET in ways:
        yield Step(
            "stand", "Stand the screens", "Feet on, no rocking, clear of ways out."
        )


def _after(ways: frozenset[Holding]) -> Iterator[Step]:
    yield Step(
        "sign",
        "Show it, and sign",
        "Walk round with the client; write down what is to be put right.",
    )
    if Holding.CHAIN in ways:
        yield Step(
            "yearly",
            "Leave word",
            "What hangs is looked at again every year: say so, and who does it.",
        )
