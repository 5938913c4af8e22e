"""A build spec as data: how one kind of panel is made, whatever its size.

Lengths are integer ticks (1 mm = 320, 1 in = 8128). Materials are named by key
and looked up in the mapping given to take_off. Nested rules become columns with
the rule's name in front in a table (cleat.wall_share -> cleat_wall_share).

The frame's strips stand on edge: a strip's width is the panel's depth, its
thickness lies in the panel's face. x runs from the left edge, y up from the
bottom edge, z back from the front face.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from quotes.specs.engine.checks import check_bevel, known, not_negative, positive
from quotes.specs.engine.errors import TakeoffError
from quotes.specs.engine.rules import (
    Battens,
    Blocking,
    CleatRule,
    EdgeRule,
    Feet,
    PointRule,
)
from quotes.specs.engine.words import (
    BackStyle,
    Driver,
    Edge,
    Face,
    Fastening,
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


@dataclass(frozen=True, slots=True)
class Brace:
    """A strip inside the frame, or several of them.

    runs across (from stile to stile) or upright (from rail to rail). It lies flat
    (wide face to the front, taking its thickness out of the depth) or on edge
    (taking strip_ticks out of the depth and dividing the fill).
    strip_ticks is the strip's own width; for a bevelled brace that of the strip
    before the tilted rip, which gives the brace and its mate, the wall cleat.
    position: tight under the top rail, tight on the bottom rail (across only), in
    the centre, its middle at fraction of the clear opening (from the bottom or left),
    or spread: as many, in equal bays, as keep each bay's clear span within
    max_span_ticks (may be none).
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
        known(self, runs=Runs, lies=Lies, position=Position)
        known(self, edge=Edge, from_face=Face)
        positive(self, "strip_ticks")
        not_negative(self, "setback_ticks", "when_over_ticks", "max_span_ticks")
        if self.edge is Edge.BEVELLED:
            self._check_bevelled()
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
        if self.position is Position.SPREAD and not self.max_span_ticks:
            raise TakeoffError("max_span_ticks", "Enter the widest bay to allow.")

    def _check_bevelled(self) -> None:
        check_bevel("bevel_deg", self.bevel_deg)
        if self.runs is not Runs.ACROSS or self.lies is not Lies.FLAT:
            raise TakeoffError("edge", "A bevelled brace must run across and lie flat.")
        if self.from_face is not Face.BACK or self.setback_ticks:
            raise TakeoffError(
                "from_face", "A bevelled brace must be flush with the back."
            )
        if self.position is Position.SPREAD or self.when_over_ticks:
            raise TakeoffError(
                "position", "A bevelled brace must be one, in a panel of any size."
            )


@dataclass(frozen=True, slots=True)
class Item:
    """Hardware or a consumable: quantity of the material's unit per unit of driver.

    for_site: it goes in the van and not on the panel at the bench.
    spare_share: what to carry or buy besides, 0.1 = one in ten.
    in_load_path: it carries the panel, and so needs its maker's rating.
    """

    material: str
    quantity: Decimal
    driver: Driver
    role: ItemRole = ItemRole.HARDWARE
    spare_share: Decimal = Decimal(0)
    for_site: bool = False
    in_load_path: bool = False

    def __post_init__(self) -> None:
        """Refuse a count of nothing."""
        known(self, driver=Driver, role=ItemRole)
        positive(self, "quantity")
        not_negative(self, "spare_share")


@dataclass(frozen=True, slots=True)
class OperationUse:
    """One labour operation of the build; minutes and rates belong to pricing.

    stage is the part of the job it belongs to.
    """

    key: str
    driver: Driver
    stage: Stage

    def __post_init__(self) -> None:
        """Refuse a driver or a stage that is not one."""
        known(self, driver=Driver, stage=Stage)


@dataclass(frozen=True, slots=True)
class Build:
    """How a kind of panel is made. See the module for the axes and units.

    depth_ticks: depth of the frame = width of its strips.
    kerf_ticks: what the saw takes, measured square to the cut.
    through: which pair runs full length at butt joints (the other fits between).
    stile_bevel_deg: back edge of both stiles tilted so that a corner panel beds on
    its battens (0 = square; the stile's outside face is the shorter). The stiles must
    then run through: a rail's square end would meet the wall first.
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
    fastening: Fastening = Fastening.NAILS
    kerf_ticks: int = 1016
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
        known(self, kind=PanelKind, hanging=Hanging, joint=Joint, through=Through)
        known(self, fastening=Fastening, back_style=BackStyle)
        positive(self, "depth_ticks", "fill_layers", "one_person_kg")
        not_negative(
            self,
            "fill_setback_front_ticks",
            "fill_oversize_ticks",
            "wrap_ticks",
            "turn_ticks",
            "seam_ticks",
            "finished_growth_ticks",
            "kerf_ticks",
            "stile_bevel_deg",
        )
        if self.stile_bevel_deg:
            self._check_stiles()
        self._check_back()
        self._check_hanging()

    def _check_stiles(self) -> None:
        check_bevel("stile_bevel_deg", self.stile_bevel_deg)
        if self.joint is not Joint.BUTT or self.through is not Through.HEIGHT:
            raise TakeoffError(
                "through", "Bevelled stiles need butt joints with the stiles through."
            )

    def _check_back(self) -> None:
        if (self.back_fabric is None) != (self.back_style is BackStyle.NONE):
            raise TakeoffError(
                "back_style", "Choose both a back fabric and where it goes, or neither."
            )

    def _check_hanging(self) -> None:
        rule, words = _RULE_OF[self.hanging]
        if getattr(self, rule) is None:
            raise TakeoffError(rule, words)
        if self.edge and self.hanging is not Hanging.EDGE:
            raise TakeoffError("edge", "Only a panel in an opening has an edge rule.")
        bevelled = any(brace.edge is Edge.BEVELLED for brace in self.braces)
        if bevelled != (self.hanging is Hanging.CLEAT):
            raise TakeoffError(
                "braces", "Hanging on cleats and a bevelled brace go together."
            )


_RULE_OF = {
    Hanging.CLEAT: ("cleat", "Say how the wall cleat is cut."),
    Hanging.CHAIN: ("points", "Say where the hanging points are."),
    Hanging.EDGE: ("edge", "Say how the panel is held in its opening."),
    Hanging.BATTENS: ("battens", "Say what battens the panel sits on."),
    Hanging.FEET: ("feet", "Say what feet the screen stands on."),
}
