"""Which thing waited for holds which act up, each with its reason."""

from __future__ import annotations

import enum
from dataclasses import dataclass


class Wait(enum.StrEnum):
    """What is waited for; the values are those of the rows."""

    DEPOSIT = "deposit"
    FABRIC = "fabric"
    MEASURE = "measure"
    LANDLORD = "landlord"
    FIRE = "fire"


class Act(enum.StrEnum):
    """A step that spends money or can't be taken back."""

    BUY_WOOD = "buy_wood"
    BUY_CLOTH = "buy_cloth"
    BUY_OTHER = "buy_other"
    """Fill, hardware and what is used up."""
    CUT_WOOD = "cut_wood"
    CUT_CLOTH = "cut_cloth"
    """Fabric, backing and fill."""


BUYING = (Act.BUY_WOOD, Act.BUY_CLOTH, Act.BUY_OTHER)
CUTTING = (Act.CUT_WOOD, Act.CUT_CLOTH)


@dataclass(frozen=True, slots=True)
class Hold:
    """One thing waited for holds one act up, because."""

    wait: Wait
    act: Act
    why: str


def _each(wait: Wait, acts: tuple[Act, ...], why: str) -> tuple[Hold, ...]:
    return tuple(Hold(wait, act, why) for act in acts)


HOLDS: tuple[Hold, ...] = (
    *_each(
        Wait.DEPOSIT,
        BUYING,
        "What is bought before the deposit is in, the shop pays out of its own pocket.",
    ),
    *_each(
        Wait.DEPOSIT,
        CUTTING,
        "What is cut to size fits no other job, should this one fall through.",
    ),
    Hold(
        Wait.FABRIC,
        Act.BUY_CLOTH,
        "Cloth off the roll is not taken back: the client signs for it first.",
    ),
    Hold(
        Wait.FABRIC,
        Act.CUT_CLOTH,
        "Cloth that is cut can't be changed for another colour or lot.",
    ),
    Hold(
        Wait.MEASURE,
        Act.CUT_WOOD,
        "Paint and trim take from an opening what a panel then lacks to fit.",
    ),
    Hold(
        Wait.MEASURE,
        Act.CUT_CLOTH,
        "Cloth and fill are cut to a size that is only known once it is read again.",
    ),
    *_each(
        Wait.LANDLORD,
        BUYING,
        "If the landlord says no, or not so, other panels are needed, or none.",
    ),
    *_each(
        Wait.LANDLORD,
        CUTTING,
        "If the landlord says no, what is cut to size hangs nowhere.",
    ),
    *_each(
        Wait.FIRE,
        (Act.BUY_CLOTH, Act.BUY_OTHER, Act.CUT_CLOTH),
        "Without papers it may not be allowed in such a room: another may have to be"
        " chosen.",
    ),
)
"""All holds. Second measure holds up cutting only, and only of panels not measured yet."""

_WHY = {(hold.wait, hold.act): hold.why for hold in HOLDS}

_BUYING_OF = {"sheet": Act.BUY_WOOD, "board": Act.BUY_WOOD, "fabric": Act.BUY_CLOTH}
_CUTTING_OF = {
    "sheets": Act.CUT_WOOD,
    "bars": Act.CUT_WOOD,
    "roll": Act.CUT_CLOTH,
    "fill": Act.CUT_CLOTH,
}


def why_held(wait: str, act: Act) -> str:
    """Return why a thing waited for holds an act up; nothing where it does not."""
    return _WHY.get((Wait(wait), act), "")


def buying_of(material_kind: str) -> Act:
    """Return which buying a kind of material is."""
    return _BUYING_OF.get(material_kind, Act.BUY_OTHER)


def cutting_of(cut_kind: str) -> Act:
    """Return which cutting a kind of cut plan is; a kind not known raises `KeyError`."""
    return _CUTTING_OF[cut_kind]
