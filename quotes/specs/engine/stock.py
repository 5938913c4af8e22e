"""Facts about a material that the takeoff needs; no price is among them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from quotes.specs.engine.checks import known, not_negative
from quotes.specs.engine.errors import TakeoffError


class StockKind(StrEnum):
    """What a material is bought as."""

    SHEET = "sheet"
    BOARD = "board"
    FABRIC = "fabric"
    FILL = "fill"
    HARDWARE = "hardware"
    CONSUMABLE = "consumable"


WOOD_KINDS = frozenset({StockKind.SHEET, StockKind.BOARD})


def wood_density_kg_m3(specific_gravity: float, *, moisture_percent: float) -> float:
    """Return ρ = 1000 G (1 + MC / 100) in kg/m³.

    G on oven-dry mass and volume at that moisture (Wood Handbook, chapter 4).
    """
    return 1000 * specific_gravity * (1 + moisture_percent / 100)


@dataclass(frozen=True, slots=True)
class Stock:
    """One material as the maker finds it on the rack.

    Lengths in ticks; 0 means "not limited, or not known" (a roll has no length).
    thickness_ticks is what the calliper says, not what the label says.
    A sheet's length_ticks runs with its grain. A fabric's width_ticks is the whole
    roll with selvedges; selvedge_ticks is lost at each edge.
    Mass: wood needs density_kg_m3 (or mass_g_m2), fill either of the two, fabric
    mass_g_m2; hardware and consumables mass_g_each, per unit they are counted in
    (a piece, a metre of chain, a millilitre of glue).
    directional means that the cloth's nap or pattern has an up: its height must run
    along the roll.
    """

    key: str
    name: str
    kind: StockKind
    thickness_ticks: int = 0
    width_ticks: int = 0
    length_ticks: int = 0
    density_kg_m3: float = 0.0
    mass_g_m2: float = 0.0
    mass_g_each: float = 0.0
    selvedge_ticks: int = 0
    directional: bool = False
    unit: str = "each"

    def __post_init__(self) -> None:
        """Refuse negative facts and a material that lacks what its kind needs."""
        known(self, kind=StockKind)
        not_negative(
            self,
            "thickness_ticks",
            "width_ticks",
            "length_ticks",
            "density_kg_m3",
            "mass_g_m2",
            "mass_g_each",
            "selvedge_ticks",
        )
        if self.kind in WOOD_KINDS | {StockKind.FILL} and not self.thickness_ticks:
            raise TakeoffError(
                "thickness_ticks", f"{self.name}: enter its measured thickness."
            )
        if self.kind is StockKind.FABRIC and self.usable_width_ticks <= 0:
            raise TakeoffError(
                "width_ticks",
                f"{self.name}: enter the roll's width; it must be more than both selvedges.",
            )

    @property
    def usable_width_ticks(self) -> int:
        """Width of the roll less both selvedges, in ticks."""
        return self.width_ticks - 2 * self.selvedge_ticks

    @property
    def is_wood(self) -> bool:
        """Whether parts can be sawn from it."""
        return self.kind in WOOD_KINDS
