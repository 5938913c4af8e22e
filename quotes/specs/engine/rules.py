"""How a panel is held: one rule for each way of hanging, all lengths in ticks."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from quotes.specs.engine.checks import not_negative, positive
from quotes.specs.engine.errors import TakeoffError


@dataclass(frozen=True, slots=True)
class CleatRule:
    """How the wall half of a bevelled cleat pair is cut and hung.

    The wall cleat's length is wall_fixed_ticks, or else wall_share of the frame's width, at least
    wall_min_ticks, rounded to step_ticks. A panel wider than two_over_ticks
    (0 = never) gets two, each half of that length, set so that two_travel_ticks of
    sideways travel are left. margin_ticks: the panel's centre must stay this far
    inside the cleat's ends. finger_ticks: room above the lift to hook the panel on.
    """

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
        not_negative(
            self,
            "wall_fixed_ticks",
            "wall_min_ticks",
            "two_over_ticks",
            "two_travel_ticks",
            "margin_ticks",
            "finger_ticks",
            "hole_inset_ticks",
            "hole_spacing_ticks",
        )
        positive(self, "step_ticks", "holes")
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
        positive(self, "across", "down", "inset_ticks")
        not_negative(self, "max_spacing_ticks")
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
        positive(self, "length_ticks", "width_ticks", "layers")


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
        not_negative(self, "clearance_ticks", "compressed_ticks")

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
        positive(self, "strip_ticks", "count", "holes")
        not_negative(self, "end_gap_ticks")


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
        positive(self, "length_ticks", "strip_ticks")
        not_negative(self, "inset_ticks")
        if self.count < 2:
            raise TakeoffError("count", "A screen needs at least two feet.")
