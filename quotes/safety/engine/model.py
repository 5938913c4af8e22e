"""What a load path is worked out from, and what comes out. Newtons, metres, kilograms."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from quotes.safety.engine.errors import SafetyError
from quotes.safety.engine.statics import At

VERSION = "load path 1"


class Member(StrEnum):
    """What kind of thing carries: it decides who can say what it may carry."""

    FRAMING = "framing"
    HARDWARE = "hardware"
    FRAME = "frame"
    JOINT = "joint"


class Verdict(StrEnum):
    """How one element stands."""

    ENOUGH = "enough"
    TOO_LITTLE = "too_little"
    UNRATED = "unrated"
    WRONG = "wrong"


@dataclass(frozen=True, slots=True)
class Rated:
    """A working load in newtons, and who says so. There is no generic one."""

    load_n: float
    source: str

    def __post_init__(self) -> None:
        """Refuse a load of nothing, and one that nobody stands for."""
        if not self.load_n > 0:
            raise SafetyError("load_n", "A working load is more than nothing.")
        if not self.source.strip():
            raise SafetyError("source", "Say where the working load is from.")


@dataclass(frozen=True, slots=True)
class Hardware:
    """A bought part in the load path: how many of it a panel has, and its rating.

    each_hole: it is a screw, of which all share; otherwise each alone holds its point.
    hollow: it holds in board with nothing behind. subject: see `Element`. unit: what
    `count` counts, pieces or as chain does, metres. per_job: it is counted once for the
    whole job, so that `count` says nothing of one panel and is 0.
    """

    name: str
    count: float
    rating: Rated | None = None
    each_hole: bool = False
    hollow: bool = False
    subject: str = ""
    unit: str = "each"
    per_job: bool = False


@dataclass(frozen=True, slots=True)
class Building:
    """What it is fixed to: the surfaces it may be, and what the framing may carry.

    `rating` is for each fixing, by whoever found the framing; without it the framing
    has not been found.
    """

    surface: str
    constructions: frozenset[str] = frozenset()
    rating: Rated | None = None
    subject: str = ""


@dataclass(frozen=True, slots=True)
class Frame:
    """The panel's own wood where it is held, and its corners.

    Both are made by the shop, so a rating is a test's or an engineer's.
    """

    blocked: bool
    glued: bool
    rating: Rated | None = None
    joint_rating: Rated | None = None
    subject: str = ""
    joint_subject: str = ""


@dataclass(frozen=True, slots=True)
class Hung:
    """A panel that hangs by points; `hardware` from the building down."""

    mass_kg: float
    points: tuple[At, ...]
    centre: At
    hardware: tuple[Hardware, ...]
    building: Building
    frame: Frame
    angle_deg: float = 0.0

    def __post_init__(self) -> None:
        """Refuse a panel on one point: nothing is opposite."""
        if len(self.points) < 2:
            raise SafetyError("points", "A hung panel needs at least two points.")


@dataclass(frozen=True, slots=True)
class OnCleats:
    """A wall panel on bevelled cleats; the statics' words are in `cleat_screw_load`."""

    mass_kg: float
    off_wall_m: float
    arm_m: float
    bevel_deg: float
    hardware: tuple[Hardware, ...]
    building: Building
    frame: Frame


@dataclass(frozen=True, slots=True)
class OnBattens:
    """A corner panel on battens, held by what joins it to them."""

    mass_kg: float
    hardware: tuple[Hardware, ...]
    building: Building


Held = Hung | OnCleats | OnBattens


@dataclass(frozen=True, slots=True)
class Element:
    """One thing in the path: what it must hold, what it may, and who says so.

    wrong: why it holds nothing here, however it is rated. subject: the name under which
    somebody can state its working load; none where that would help nothing.
    """

    member: Member
    name: str
    must_hold_n: float
    rating: Rated | None = None
    wrong: str = ""
    subject: str = ""

    @property
    def verdict(self) -> Verdict:
        """How it stands: rated and enough, or what is missing."""
        if self.wrong:
            return Verdict.WRONG
        if self.rating is None:
            return Verdict.UNRATED
        holds = self.rating.load_n >= self.must_hold_n
        return Verdict.ENOUGH if holds else Verdict.TOO_LITTLE


@dataclass(frozen=True, slots=True)
class LoadPath:
    """From the building to the panel's corners, with what keeps it from being cleared."""

    weight_n: float
    elements: tuple[Element, ...]
    missing: tuple[str, ...]
    assumed: tuple[str, ...]
    version: str = VERSION

    @property
    def cleared(self) -> bool:
        """Whether every element is rated, and enough, and nothing else is wrong."""
        enough = all(e.verdict is Verdict.ENOUGH for e in self.elements)
        return enough and bool(self.elements) and not self.missing
