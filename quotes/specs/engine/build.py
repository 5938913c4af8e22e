"""A build spec as data: how one kind of panel is made, whatever its size.

Lengths are integer ticks (1 mm = 320, 1 in = 8128). Materials are named by key
and looked up in the mapping given to take_off. Nested rules become columns with
the rule's name in front in a table (cleat.kerf_ticks -> cleat_kerf_ticks).

The frame's strips stand on edge: a strip's width is the panel's depth, its
thickness lies in the panel's face. x runs from the left edge, y up from the
bottom edge, z back from the front face.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from quotes.specs.engine.errors import TakeoffError
from quotes.specs.engine.words import (
    BackStyle,
    Driver,
    Edge,
    Face,
    Hanging,
    ItemRole,
    Joint,
    Lies,
    PanelKind,
    Position,
    Runs,
    Stage,
    Through,
)

MAX_BEVEL_DEG = 60.0


def _not_negative(owner: object, *fields: str) -> None:
    for field in fields:
        if getattr(owner, field) < 0:
            raise TakeoffError(field, "This cannot be negative.")


def _positive(owner: object, *fields: str) -> None:
    for field in fields:
        if getattr(owner, field) <= 0:
            raise TakeoffError(field, "Enter more than zero.")


def _bevel(field: str, degrees: float) -> None:
    if not 0 < degrees <= MAX_BEVEL_DEG:
        raise TakeoffError(
            field, f"Enter a bevel over 0 and up to {MAX_BEVEL_DEG:.0f} degrees."
        )


@dataclass(frozen=True, slots=True)
class Brace:
    """A strip inside the frame, or several of them.

    runs across (from stile to stile) or upright (from rail to rail). It lies flat
    (wide face to the front, taking its thickness out of the depth) or on edge
    (taking strip_ticks out of the depth and dividing the fill).
    strip_ticks is the strip's own width; for a bevelled brace that of the strip
    before the tilted rip, which gives the brace and its mate, the wall cleat.
    position: tight under the top rail, tight on the bottom rail (across only), in
    the centre, at fraction of the clear opening (from the bottom or left), or even:
    as many as keep every bay within max_span_ticks (may be none).
    setback_ticks is measured from from_face to the brace's nearer side.
    when_over_ticks: only present when the dimension it divides (height for across,
    width for upright) is over this; 0 = always.
    stock None means the frame's own.
    """

    name: str
    runs: Runs
    lies: Lies
    strip_ticks: int
    position: Position = Position.CENTRE
    edge: Edge = Edge.SQUARE
    bevel_deg: float = 0.0
    fraction: Decimal = Decimal("0.5")
    max_span_ticks: int = 0
    from_face: Face = Face.BACK
    setback_ticks: int = 0
    stock: str | None = None
    when_over_ticks: int = 0

    def __post_init__(self) -> None:
        """Refuse a brace that no saw or frame could give."""
        _positive(self, "strip_ticks")
        _not_negative(self, "setback_ticks", "when_over_ticks", "max_span_ticks")
        if self.edge is Edge.BEVELLED:
            _bevel("bevel_deg", self.bevel_deg)
            if self.runs is not Runs.ACROSS or self.lies is not Lies.FLAT:
                raise TakeoffError(
                    "edge", "A bevelled brace must run across and lie flat."
                )
        if self.runs is Runs.UPRIGHT and self.position in {
            Position.TIGHT_TOP,
            Position.TIGHT_BOTTOM,
        }:
            raise TakeoffError(
                "position",
                "An upright brace lies in the centre, at a share, or evenly.",
            )
        if not 0 < self.fraction < 1:
            raise TakeoffError("fraction", "Enter a share between 0 and 1, like 0.5.")
        if self.position is Position.EVEN and not self.max_span_ticks:
            raise TakeoffError("max_span_ticks", "Enter the widest bay to allow.")


@dataclass(frozen=True, slots=True)
class CleatRule:
    """How the wall half of a bevelled cleat pair is cut and hung.

    kerf_ticks is measured square to the cut. The wall cleat's length is
    wall_fixed_ticks, or else wall_share of the frame's width, at least
    wall_min_ticks, rounded to step_ticks. A panel wider than two_over_ticks
    (0 = never) gets two, each half of that length, set so that two_travel_ticks of
    sideways travel are left. margin_ticks: the panel's centre must stay this far
    inside the cleat's ends. finger_ticks: room above the lift to hook the panel on.
    """

    kerf_ticks: int = 1024
    wall_share: Decimal = Decimal("0.5")
    wall_fixed_ticks: int = 0
    wall_min_ticks: int = 48000
    step_ticks: int = 320
    two_over_ticks: int = 0
    two_travel_ticks: int = 8000
    margin_ticks: int = 8000
    finger_ticks: int = 6400
    holes: int = 2
    hole_inset_ticks: int = 8000
    hole_spacing_ticks: int = 0

    def __post_init__(self) -> None:
        """Refuse lengths below zero, a share beyond the panel and a cleat without holes."""
        _not_negative(
            self,
            "kerf_ticks",
            "wall_fixed_ticks",
            "wall_min_ticks",
            "two_over_ticks",
            "two_travel_ticks",
            "margin_ticks",
            "finger_ticks",
            "hole_inset_ticks",
            "hole_spacing_ticks",
        )
        _positive(self, "step_ticks", "holes")
        if not 0 < self.wall_share <= 1:
            raise TakeoffError("wall_share", "Enter a share of the width up to 1.")


@dataclass(frozen=True, slots=True)
class PointRule:
    """Where a hung panel is held: rows of points inset from the outside edges.

    Only points along the edges are made (there is no wood under the others).
    down 1 means one row near the top edge. max_spacing_ticks adds points until
    none are further apart (0 = never).
    """

    across: int = 2
    down: int = 2
    inset_ticks: int = 16256
    max_spacing_ticks: int = 0

    def __post_init__(self) -> None:
        """Refuse fewer than two points."""
        _positive(self, "across", "down", "inset_ticks")
        _not_negative(self, "max_spacing_ticks")
        if self.across * self.down < 2:
            raise TakeoffError("across", "A hung panel needs at least two points.")


@dataclass(frozen=True, slots=True)
class Blocking:
    """A block of wood glued inside the frame under each hanging point.

    length_ticks runs along the member it is glued to, width_ticks reaches inwards;
    it lies flat, flush with the back, layers of its stock thick.
    """

    length_ticks: int
    width_ticks: int
    layers: int = 1
    stock: str | None = None

    def __post_init__(self) -> None:
        """Refuse a block of no size."""
        _positive(self, "length_ticks", "width_ticks", "layers")


@dataclass(frozen=True, slots=True)
class EdgeRule:
    """How a reveal panel is held in its opening.

    clearance_ticks is left free at each side of the finished panel. strip is the
    compressible edge (its stock's thickness is the relaxed one) and
    compressed_ticks what it takes at each side when pushed home; the gap is the
    larger of the two, because the strip lies in the clearance.
    """

    clearance_ticks: int = 960
    strip: str | None = None
    compressed_ticks: int = 0

    def __post_init__(self) -> None:
        """Refuse negative gaps."""
        _not_negative(self, "clearance_ticks", "compressed_ticks")

    @property
    def gap_ticks(self) -> int:
        """Gap between finished panel and opening at each side, in ticks."""
        return max(self.clearance_ticks, self.compressed_ticks)


@dataclass(frozen=True, slots=True)
class Battens:
    """Strips fixed to the walls that a corner panel sits on; upright, end_gap each end."""

    strip_ticks: int
    count: int = 2
    end_gap_ticks: int = 0
    stock: str | None = None
    holes: int = 3

    def __post_init__(self) -> None:
        """Refuse battens of no size."""
        _positive(self, "strip_ticks", "count", "holes")
        _not_negative(self, "end_gap_ticks")


@dataclass(frozen=True, slots=True)
class Feet:
    """Cross-pieces under a free-standing screen, square to its face and centred on it.

    length_ticks runs front to back, strip_ticks stands upright under the frame.
    """

    length_ticks: int
    strip_ticks: int
    count: int = 2
    inset_ticks: int = 16000
    stock: str | None = None

    def __post_init__(self) -> None:
        """Refuse feet of no size."""
        _positive(self, "length_ticks", "strip_ticks")
        _not_negative(self, "inset_ticks")
        if self.count < 2:
            raise TakeoffError("count", "A screen needs at least two feet.")


@dataclass(frozen=True, slots=True)
class Item:
    """Hardware or a consumable: quantity of the material's unit per unit of driver.

    for_site: it goes in the van and not on the panel at the bench.
    spare_share: what to carry or buy besides, 0.1 = one in ten.
    """

    material: str
    quantity: Decimal
    driver: Driver
    role: ItemRole = ItemRole.HARDWARE
    spare_share: Decimal = Decimal(0)
    for_site: bool = False

    def __post_init__(self) -> None:
        """Refuse a count of nothing."""
        _positive(self, "quantity")
        _not_negative(self, "spare_share")


@dataclass(frozen=True, slots=True)
class OperationUse:
    """One labour operation of the build; minutes and rates belong to pricing.

    stage is the one that is reached when the operation is done.
    """

    key: str
    driver: Driver
    stage: Stage


@dataclass(frozen=True, slots=True)
class Build:
    """How a kind of panel is made. See the module for the axes and units.

    depth_ticks: depth of the frame = width of its strips.
    through: which pair runs full length at butt joints (the other fits between).
    stile_bevel_deg: back edge of both stiles tilted so that a corner panel beds on
    its battens (0 = square; the stile's outside face is the shorter).
    fill_setback_front_ticks: front face of the frame to front of the fill, at least;
    a flat brace at the front pushes it further back.
    fill_oversize_ticks: fill is cut this much larger than its bay, both ways.
    wrap_ticks: front fabric beyond the back edge, each side.
    turn_ticks: what back fabric and lining are turned by, each side.
    allow_seam: a cloth wider than the roll is seamed instead of refused; each seam
    takes seam_ticks from both its pieces.
    finished_growth_ticks: what fabric and folded corners add to width and to height.
    one_person_kg: above this the panel is flagged for two people.
    """

    key: str
    name: str
    kind: PanelKind
    depth_ticks: int
    frame_stock: str
    hanging: Hanging
    joint: Joint = Joint.BUTT
    glued: bool = True
    through: Through = Through.WIDTH
    stile_bevel_deg: float = 0.0
    braces: tuple[Brace, ...] = ()
    fill: str | None = None
    fill_layers: int = 1
    fill_setback_front_ticks: int = 0
    fill_oversize_ticks: int = 0
    front_fabric: str | None = None
    front_lining: str | None = None
    back_fabric: str | None = None
    back_style: BackStyle = BackStyle.NONE
    wrap_ticks: int = 16256
    turn_ticks: int = 4800
    allow_seam: bool = False
    seam_ticks: int = 4064
    finished_growth_ticks: int = 1016
    cleat: CleatRule | None = None
    points: PointRule | None = None
    blocking: Blocking | None = None
    edge: EdgeRule | None = None
    battens: Battens | None = None
    feet: Feet | None = None
    items: tuple[Item, ...] = ()
    operations: tuple[OperationUse, ...] = ()
    one_person_kg: float = 23.0

    def __post_init__(self) -> None:
        """Refuse a build whose parts contradict each other."""
        _positive(self, "depth_ticks", "fill_layers", "one_person_kg")
        _not_negative(
            self,
            "fill_setback_front_ticks",
            "fill_oversize_ticks",
            "wrap_ticks",
            "turn_ticks",
            "seam_ticks",
            "finished_growth_ticks",
            "stile_bevel_deg",
        )
        if self.stile_bevel_deg:
            _bevel("stile_bevel_deg", self.stile_bevel_deg)
        self._check_back()
        self._check_hanging()

    def _check_back(self) -> None:
        if (self.back_fabric is None) != (self.back_style is BackStyle.NONE):
            raise TakeoffError(
                "back_style", "Choose both a back fabric and where it goes, or neither."
            )

    def _check_hanging(self) -> None:
        rule, words = _RULE_OF[self.hanging]
        if getattr(self, rule) is None:
            raise TakeoffError(rule, words)
        if self.hanging is Hanging.CLEAT and not self.cleat_braces:
            raise TakeoffError(
                "braces", "Hanging on cleats needs a bevelled brace at the back."
            )

    @property
    def cleat_braces(self) -> tuple[Brace, ...]:
        """The bevelled braces at the back, whose mates hang on the wall."""
        return tuple(
            brace
            for brace in self.braces
            if brace.edge is Edge.BEVELLED and brace.from_face is Face.BACK
        )


_RULE_OF = {
    Hanging.CLEAT: ("cleat", "Say how the wall cleat is cut."),
    Hanging.CHAIN: ("points", "Say where the hanging points are."),
    Hanging.EDGE: ("edge", "Say how the panel is held in its opening."),
    Hanging.BATTENS: ("battens", "Say what battens the panel sits on."),
    Hanging.FEET: ("feet", "Say what feet the screen stands on."),
}
