"""Nominal, frame and finished: three sizes of one panel."""

from __future__ import annotations

from dataclasses import dataclass

from quotes.specs.engine.build import Build
from quotes.specs.engine.errors import TakeoffError
from quotes.specs.engine.notation import Notation
from quotes.specs.engine.result import NominalSize, Size
from quotes.specs.engine.words import Hanging


@dataclass(frozen=True, slots=True)
class Sizes:
    """The sizes of one panel and the opening inside its frame."""

    nominal: NominalSize
    frame: Size
    finished: Size
    clear: Size
    how: str


def work_out(
    build: Build, nominal: NominalSize, thickness_ticks: int, notation: Notation
) -> Sizes:
    """Turn the nominal size into what is cut and what is laid out.

    The frame is nominal and the finished panel larger by the fabric's growth. In an
    opening it is the other way round: opening less the gap at each side is the
    finished size, and that less the growth is the frame. Raises TakeoffError when
    nothing is left to build.
    """
    growth, gaps = build.finished_growth_ticks, 0
    if build.hanging is Hanging.EDGE:
        gaps = 2 * reveal_gap(build) + growth
    sides = []
    for field in ("width_ticks", "height_ticks"):
        outside = getattr(nominal, field) - gaps
        if outside <= 2 * thickness_ticks:
            least = notation.length(gaps + 2 * thickness_ticks)
            raise TakeoffError(
                field, f"Nothing would be left inside the frame: go over {least}."
            )
        sides.append(outside)
    width, height = sides
    depth = build.depth_ticks
    return Sizes(
        nominal,
        frame=Size(width, height, depth),
        finished=Size(width + growth, height + growth, depth),
        clear=Size(width - 2 * thickness_ticks, height - 2 * thickness_ticks, depth),
        how=_how(build, nominal, (width, height), notation),
    )


def _how(
    build: Build, nominal: NominalSize, frame: tuple[int, int], notation: Notation
) -> str:
    growth = notation.length(build.finished_growth_ticks)
    finished = [side + build.finished_growth_ticks for side in frame]
    shown, outside = notation.size(*finished), notation.size(*frame)
    if build.hanging is not Hanging.EDGE:
        return f"frame {outside} + {growth} of fabric each way = finished {shown}"
    opening = notation.size(nominal.width_ticks, nominal.height_ticks)
    return (
        f"opening {opening} − 2 × {notation.length(reveal_gap(build))} of gap = finished"
        f" {shown}; − {growth} of fabric = frame {outside}"
    )


def reveal_gap(build: Build) -> int:
    """Return the gap at each side of a panel in an opening in ticks, 0 for any other."""
    return build.edge.gap_ticks if build.edge else 0
