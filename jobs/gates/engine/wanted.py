"""Which things a job waits for, from what was agreed: one sentence of why for each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from jobs.gates.engine.acts import Wait


@dataclass(frozen=True, slots=True)
class Cloth:
    """A fabric that panels show, by its key, with the numbers of those panels."""

    material: str
    name: str
    code: str
    colour: str
    panels: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Reveal:
    """A panel that fills an opening, by its number."""

    number: int
    room: str


@dataclass(frozen=True, slots=True)
class Unpapered:
    """Cloth or fill without fire papers, in rooms where papers are asked for."""

    material: str
    name: str
    code: str
    colour: str
    rooms: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Agreed:
    """What was agreed, as far as something has to be waited for.

    Each cloth and each lacking paper stands once; `rented` names places that belong to
    somebody other than the client.
    """

    deposit: bool = False
    cloths: tuple[Cloth, ...] = ()
    reveals: tuple[Reveal, ...] = ()
    rented: tuple[str, ...] = ()
    unpapered: tuple[Unpapered, ...] = ()


@dataclass(frozen=True, slots=True)
class Wanted:
    """One thing to wait for, and why; of a material, its key, name, code and colour."""

    wait: Wait
    why: str
    material: str = ""
    name: str = ""
    code: str = ""
    colour: str = ""
    panels: tuple[int, ...] = ()


def wanted(agreed: Agreed) -> tuple[Wanted, ...]:
    """Return what a job waits for, in the order in which a shop asks for it."""
    return tuple(_wanted(agreed))


def _wanted(agreed: Agreed) -> Iterator[Wanted]:
    if agreed.deposit:
        yield Wanted(Wait.DEPOSIT, "The quote that was accepted asks for a deposit.")
    yield from map(_cloth, agreed.cloths)
    if agreed.reveals:
        yield _measure(agreed.reveals)
    if agreed.rented:
        places = " and ".join(agreed.rented)
        why = f"{places} is rented: the owner of the walls has a say."
        if len(agreed.rented) > 1:
            why = f"{places} are rented: the owners of the walls have a say."
        yield Wanted(Wait.LANDLORD, why)
    yield from map(_papers, agreed.unpapered)


def _cloth(cloth: Cloth) -> Wanted:
    count = len(cloth.panels)
    panels = "1 panel is" if count == 1 else f"{count} panels are"
    return Wanted(
        Wait.FABRIC,
        f"{panels} covered with {cloth.name}: code, colour and dye lot are signed for"
        " before it is cut off the roll.",
        cloth.material,
        cloth.name,
        cloth.code,
        cloth.colour,
        cloth.panels,
    )


def _measure(reveals: tuple[Reveal, ...]) -> Wanted:
    count, rooms = len(reveals), tuple(dict.fromkeys(each.room for each in reveals))
    panels = (
        "1 panel fills an opening" if count == 1 else f"{count} panels fill openings"
    )
    return Wanted(
        Wait.MEASURE,
        f"{panels} in {' and '.join(rooms)}: read again after paint and trim.",
        panels=tuple(each.number for each in reveals),
    )


def _papers(lacking: Unpapered) -> Wanted:
    return Wanted(
        Wait.FIRE,
        f"{lacking.name} goes into {' and '.join(lacking.rooms)}, which is public,"
        " shared or rented, and no fire papers were on file when the quote was sent.",
        lacking.material,
        lacking.name,
        lacking.code,
        lacking.colour,
    )
