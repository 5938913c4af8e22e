"""What every part of one panel is worked out from, together."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from quotes.specs.engine.build import Build
from quotes.specs.engine.materials import find_wood
from quotes.specs.engine.notation import Notation
from quotes.specs.engine.sizes import Sizes
from quotes.specs.engine.stock import Stock


@dataclass(frozen=True, slots=True)
class Bench:
    """A build, the sizes of one panel, the materials, and how lengths are written."""

    build: Build
    sizes: Sizes
    materials: Mapping[str, Stock]
    notation: Notation

    @property
    def frame_stock(self) -> Stock:
        """The stock of the frame."""
        return find_wood(self.materials, self.build.frame_stock, "frame_stock")

    def stock_or_frame(self, key: str | None, field: str) -> Stock:
        """Return a part's own stock, or the frame's."""
        return find_wood(self.materials, key or self.build.frame_stock, field)

    def is_ripped(self, stock: str, strip_ticks: int) -> bool:
        """Whether a strip is ripped: a board used at its full width is not."""
        return self.materials[stock].width_ticks != strip_ticks
