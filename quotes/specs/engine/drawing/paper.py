"""What every panel drawing is asked with: paper, units, and the panel itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from quotes.specs.engine.result import Box, Takeoff, WallCleat, WoodPart
from quotes.specs.engine.words import BackStyle, ClothRole, PartRole
from shared.drawing import IMPERIAL_SCALES, METRIC_SCALES
from shared.length import UnitSystem, show, show_size


@dataclass(frozen=True, slots=True)
class Paper:
    """The sheet and the way lengths print on it.

    ``key`` begins every id in the SVG: a letter, then letters, digits, hyphens and
    underscores. The sheet's height shrinks to what is drawn.
    """

    key: str
    title: str
    units: UnitSystem
    fraction: int = 16
    width_mm: float = 180.0
    height_mm: float = 165.0

    def length(self, ticks: int) -> str:
        """Print a length for a dimension line: bare millimetres, or inches with a mark."""
        metric = self.units is UnitSystem.METRIC
        return show(
            ticks,
            units=self.units,
            fraction=self.fraction,
            unit_mark=not metric,
            feet=False,
        )

    def size(self, *sides_ticks: int) -> str:
        """Print a size in words, unit included."""
        return show_size(*sides_ticks, units=self.units, fraction=self.fraction)

    @property
    def scales(self) -> tuple[int, ...]:
        """Return the standard scales of the shop's system, largest first."""
        metric = self.units is UnitSystem.METRIC
        return METRIC_SCALES if metric else IMPERIAL_SCALES

    @property
    def unit_note(self) -> str:
        """Say what bare figures mean."""
        metric = self.units is UnitSystem.METRIC
        return "Sizes in millimetres" if metric else "Sizes in inches"


@dataclass(frozen=True, slots=True)
class Panel:
    """One panel as taken off, with what only its build says.

    ``sheet_stocks`` are the keys of the stocks that are sheet goods: their edges show
    plies, all other wood end grain.
    """

    takeoff: Takeoff
    back_style: BackStyle = BackStyle.NONE
    sheet_stocks: frozenset[str] = frozenset()

    @property
    def width(self) -> int:
        """Return the width of the frame in ticks."""
        return self.takeoff.frame.width_ticks

    @property
    def height(self) -> int:
        """Return the height of the frame in ticks."""
        return self.takeoff.frame.height_ticks

    @property
    def depth(self) -> int:
        """Return the depth of the frame in ticks."""
        return self.takeoff.frame.depth_ticks

    def placed(self) -> Iterator[tuple[WoodPart, Box]]:
        """Yield every piece of wood that has a place in the panel, back-most last."""
        pairs = [
            (part, place)
            for part in self.takeoff.parts
            if part.on_panel
            for place in part.places
        ]
        return iter(sorted(pairs, key=_by_depth))

    def has_cloth(self, role: ClothRole) -> bool:
        """Say whether some cloth covers that side."""
        return any(cloth.role is role for cloth in self.takeoff.cloths)


def _by_depth(pair: tuple[WoodPart, Box]) -> tuple[int, int, int]:
    place = pair[1]
    return place.z_ticks + place.depth_ticks, place.y_ticks, place.x_ticks


def rising(*stops: int) -> list[int]:
    """Return the different stops in order."""
    return sorted(set(stops))


def part_name(part: WoodPart, paper: Paper) -> str:
    """Name a piece of wood with its thickness, width and bevel."""
    size = (
        f"{paper.length(part.thickness_ticks)} × {paper.length(part.rip_width_ticks)}"
    )
    bevel = f", {part.bevel_deg:g}°" if part.bevel_deg else ""
    return f"{sentence(part.label)} {size}{bevel}"


def sentence(words: str) -> str:
    """Begin with a capital."""
    return words[:1].upper() + words[1:]


def wall_cleat_rows(panel: Panel) -> list[tuple[WoodPart, list[WallCleat]]]:
    """Return each wall cleat part with its lengths on the wall, all at one height."""
    rows: dict[int, list[WallCleat]] = {}
    for cleat in panel.takeoff.hang.wall_cleats:
        rows.setdefault(cleat.below_top_ticks, []).append(cleat)
    parts = panel.takeoff.parts_of(PartRole.WALL_CLEAT)
    return list(zip(parts, rows.values(), strict=False))
