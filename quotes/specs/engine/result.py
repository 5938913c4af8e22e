"""What a takeoff gives: sizes, parts, cloths, fill, counts, mass; all of one panel.

Axes: x from the frame's left outside edge, y up from its bottom outside edge, z
back from its front face, seen from the front. Lengths are integer ticks.
how is a short derivation for people, with lengths in the shop's system.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from quotes.specs.engine.errors import Problem, Severity, TakeoffError
from quotes.specs.engine.measure import square_metres
from quotes.specs.engine.words import (
    ClothRole,
    Driver,
    EndCut,
    Hanging,
    ItemRole,
    PanelKind,
    PartRole,
    Runs,
    Stage,
)

# No panel of this trade comes near it: 20 m, in ticks. Catches a slipped unit.
MAX_PANEL_TICKS = 20_000 * 320


@dataclass(frozen=True, slots=True)
class NominalSize:
    """What people call the panel; for a reveal panel its opening's smallest readings."""

    width_ticks: int
    height_ticks: int

    def __post_init__(self) -> None:
        """Refuse sizes that cannot be a panel."""
        for field in ("width_ticks", "height_ticks"):
            if getattr(self, field) <= 0:
                raise TakeoffError(field, "Enter a size of more than zero.")
            if getattr(self, field) > MAX_PANEL_TICKS:
                raise TakeoffError(field, "Enter a size of 20 m (65 ft) at most.")

    @classmethod
    def smallest_of(
        cls, width_readings: Iterable[int], height_readings: Iterable[int]
    ) -> NominalSize:
        """Return the opening that the smallest readings leave, in ticks."""
        return cls(min(width_readings), min(height_readings))


@dataclass(frozen=True, slots=True)
class Size:
    """Width, height and depth of the frame or of the finished panel."""

    width_ticks: int
    height_ticks: int
    depth_ticks: int

    @property
    def face_m2(self) -> Decimal:
        """Area of the face in m², exact."""
        return square_metres(self.width_ticks, self.height_ticks)

    @property
    def diagonal_ticks(self) -> int:
        """Corner to corner across the face, to the nearest tick: equal when square."""
        return round(math.hypot(self.width_ticks, self.height_ticks))


@dataclass(frozen=True, slots=True)
class Box:
    """Where a piece lies in the panel: its least corner and its extent (bounding box)."""

    x_ticks: int
    y_ticks: int
    z_ticks: int
    width_ticks: int
    height_ticks: int
    depth_ticks: int


@dataclass(frozen=True, slots=True)
class WoodPart:
    """Like pieces of wood, count of them, with one place each when they are in the panel.

    rip_width_ticks is the strip's width, cut_length_ticks the longest length along
    the grain; inside_length_ticks is the shorter edge of a mitred part.
    A bevelled long edge has long_face_ticks and short_face_ticks across the strip
    (equal to rip_width_ticks when square). A panel cleat's long face lies at the
    back, bevel at its lower edge; a wall cleat's lies at the front, bevel at its
    upper edge; a bevelled stile's lies inside, bevel at its back edge.
    on_panel False: fixed to the building, not lifted with the panel.
    """

    role: PartRole
    label: str
    stock: str
    rip_width_ticks: int
    cut_length_ticks: int
    thickness_ticks: int
    count: int
    how: str
    end: EndCut = EndCut.SQUARE
    inside_length_ticks: int = 0
    bevel_deg: float = 0.0
    long_face_ticks: int = 0
    short_face_ticks: int = 0
    runs: Runs | None = None
    on_panel: bool = True
    places: tuple[Box, ...] = ()


@dataclass(frozen=True, slots=True)
class Blank:
    """A strip to rip and crosscut from stock before any tilted rip.

    A cleat pair is one blank that gives two parts; every other part is its own
    blank. Buying, nesting and wood prices count blanks, so nothing is counted twice.
    per_sheet is how many such strips the stock's width gives, per_halved_sheet how
    many if it is first halved lengthwise; 0 where the stock has no width.
    """

    label: str
    stock: str
    rip_width_ticks: int
    length_ticks: int
    count: int
    per_sheet: int = 0
    per_halved_sheet: int = 0
    bevel_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class RollLay:
    """One way to lay a cloth on its roll: what it takes across and along.

    turned: the panel's width runs along the roll. drops is the number of roll
    widths side by side (1 = no seam).
    """

    across_ticks: int
    along_ticks: int
    turned: bool = False
    drops: int = 1


@dataclass(frozen=True, slots=True)
class Cloth:
    """A piece of fabric, cut size; lays that the roll allows, least length first.

    No lay means that it fits neither way; seam_ticks is the length of all seams.
    """

    role: ClothRole
    material: str
    width_ticks: int
    height_ticks: int
    lays: tuple[RollLay, ...]
    how: str
    seam_ticks: int = 0

    @property
    def area_m2(self) -> Decimal:
        """Cut area in m², exact, without offcut or seam."""
        return square_metres(self.width_ticks, self.height_ticks)

    @property
    def needs_seam(self) -> bool:
        """Whether no single width of the roll covers it."""
        return not self.lays or self.lays[0].drops > 1


@dataclass(frozen=True, slots=True)
class FillPiece:
    """Like pieces of fill, count of them over all layers; notched round blocks if any."""

    material: str
    width_ticks: int
    height_ticks: int
    thickness_ticks: int
    count: int
    whole_board: bool
    how: str

    @property
    def area_m2(self) -> Decimal:
        """Area of all the pieces in m², exact."""
        return self.count * square_metres(self.width_ticks, self.height_ticks)


@dataclass(frozen=True, slots=True)
class Depths:
    """How the depth is shared out, front to back; they add up to the frame's depth.

    air_front_ticks: front face of the frame to front of the fill.
    air_behind_ticks: back of the fill to the back plane of the frame.
    slack_ticks: of air_behind, what is free before the nearest flat brace.
    """

    air_front_ticks: int
    fill_ticks: int
    air_behind_ticks: int
    slack_ticks: int
    how: str


@dataclass(frozen=True, slots=True)
class Point:
    """A place on the panel's face."""

    x_ticks: int
    y_ticks: int


@dataclass(frozen=True, slots=True)
class WallCleat:
    """One length of cleat on the wall; its holes from its own left end.

    left_ticks is its left end from the frame's left outside edge when the panel
    hangs in the middle of its travel; below_top_ticks is its upper edge at the wall
    (where the line is drawn) under the frame's top outside edge.
    """

    length_ticks: int
    left_ticks: int
    below_top_ticks: int
    holes: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class HangPlan:
    """How the panel is held, for the layout, the install sheet and the load path.

    travel_ticks: how far it slides each way on its cleats. lift_ticks: how far the
    bevels must be lifted to clear; headroom_ticks adds a finger. gap_ticks: gap at
    each side of a reveal panel. batten_ticks: room's corner to the line on each wall
    that a corner panel's battens reach to, where it touches; projection_ticks: room's
    corner to its front plane.
    tip_deg: the tilt front to back at which a screen's centre of mass passes its
    feet's end: information, not a limit. stand_ticks: height of the feet.
    """

    kind: Hanging
    points: tuple[Point, ...] = ()
    wall_cleats: tuple[WallCleat, ...] = ()
    travel_ticks: int = 0
    lift_ticks: int = 0
    headroom_ticks: int = 0
    gap_ticks: int = 0
    batten_ticks: int = 0
    projection_ticks: int = 0
    stand_ticks: int = 0
    tip_deg: float | None = None
    how: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class MassLine:
    """One line of the mass: what, how heavy, and whether it is lifted with the panel."""

    label: str
    kg: float
    on_panel: bool
    how: str


@dataclass(frozen=True, slots=True)
class CentreOfMass:
    """Where the panel balances, to the nearest tick (items at the panel's middle)."""

    x_ticks: int
    y_ticks: int
    z_ticks: int


@dataclass(frozen=True, slots=True)
class Mass:
    """Mass in kg: panel_kg is what is lifted, total_kg adds what stays on the building."""

    lines: tuple[MassLine, ...]
    centre: CentreOfMass

    @property
    def panel_kg(self) -> float:
        """What is lifted and hangs, in kg."""
        return math.fsum(line.kg for line in self.lines if line.on_panel)

    @property
    def total_kg(self) -> float:
        """Everything that goes to the site for this panel, in kg."""
        return math.fsum(line.kg for line in self.lines)


@dataclass(frozen=True, slots=True)
class DriverCount:
    """How much of a driver this panel has, exact."""

    driver: Driver
    amount: Decimal
    how: str


@dataclass(frozen=True, slots=True)
class ItemCount:
    """How much of a material this panel takes (spare not in quantity), exact.

    With driver JOB the quantity is for the whole job: count it once. in_load_path: it
    carries the panel.
    """

    material: str
    role: ItemRole
    driver: Driver
    quantity: Decimal
    spare: Decimal
    for_site: bool
    how: str
    in_load_path: bool = False


@dataclass(frozen=True, slots=True)
class OperationCount:
    """How often an operation is done on this panel, exact; JOB counts once for a job."""

    key: str
    driver: Driver
    stage: Stage
    amount: Decimal
    how: str


@dataclass(frozen=True, slots=True)
class WorkStep:
    """One step at the bench, in order; cautions are keys of the shop's caution texts."""

    key: str
    title: str
    detail: str
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Takeoff:
    """Everything one panel is made of, with the flags found on the way.

    clear is the opening inside the frame, with the frame's depth; size_how says how
    frame and finished size follow from the nominal one.
    """

    engine_version: str
    build_key: str
    kind: PanelKind
    nominal: NominalSize
    frame: Size
    finished: Size
    clear: Size
    parts: tuple[WoodPart, ...]
    blanks: tuple[Blank, ...]
    cloths: tuple[Cloth, ...]
    fills: tuple[FillPiece, ...]
    depths: Depths
    hang: HangPlan
    counts: tuple[DriverCount, ...]
    items: tuple[ItemCount, ...]
    operations: tuple[OperationCount, ...]
    mass: Mass
    steps: tuple[WorkStep, ...]
    problems: tuple[Problem, ...]
    size_how: str = ""

    def count_of(self, driver: Driver) -> Decimal:
        """Return how much of a driver the panel has."""
        return next(line.amount for line in self.counts if line.driver is driver)

    def parts_of(self, role: PartRole) -> tuple[WoodPart, ...]:
        """Return the wood parts of one role."""
        return tuple(part for part in self.parts if part.role is role)

    @property
    def flags(self) -> tuple[Problem, ...]:
        """What a person should look at before this is sold."""
        return tuple(p for p in self.problems if p.severity is Severity.FLAG)
