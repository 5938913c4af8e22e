"""Published sound absorption coefficients of surfaces, as their tables print them.

Each is a share between 0 and 1 of the sound that meets the surface, by octave band, from
rooms measured after Sabine. They are uncertain by 0.05 to 0.1, and tables disagree: the
same words stand for values that differ threefold at 125 Hz, so each keeps its source.
Values that were measured above 1 were printed as 1 by their table. Nothing is tabulated
below 125 Hz.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

VERSION = "finishes-1"

BANDS_HZ = (125, 250, 500, 1000, 2000, 4000)
"""The octave bands that every table gives, in Hz."""

SOURCES = {
    "VOR": "M. Vorländer, Auralization, Springer 2008, tables of the annex",
    "EVE": "F. A. Everest, Master Handbook of Acoustics, table of coefficients",
    "BAR": "R. F. Barron, Industrial Noise Control and Acoustics, 2003, appendix D",
    "COX": "T. Cox and P. D’Antonio, Acoustic Absorbers and Diffusers, appendix A",
    "T27": "“Table 27.1 Coefficients of Absorption”, an old US list that many handbooks"
    " repeat",
    "AEX": "Audio Engineering, Newnes, table 3.4",
    "EUR": "a European list, in a copy that names no author",
}
"""Where the figures were printed, by a short mark."""


@dataclass(frozen=True, slots=True)
class KnownFinish:
    """A finish as published: `coefficients` at 125 Hz to 4 kHz, shares without a unit."""

    key: str
    name: str
    coefficients: tuple[Decimal, ...]
    marks: tuple[str, ...]
    remark: str = ""

    @property
    def source(self) -> str:
        """Where the figures were printed, in words."""
        named = "; ".join(SOURCES[mark] for mark in self.marks)
        return f"{named}. {self.remark}" if self.remark else named


_PLASTER = """
gypsum-on-studs | Gypsum board 1/2 in on 2×4 studs | .29 .10 .05 .04 .07 .09 | EVE
gypsum-on-studs-old-list | Gypsum board 1/2 in on 2×4 studs, by an older list | .10 .08 .05 .03 .03 .03 | T27
plasterboard-double-steel-wool | Plasterboard 2 × 13 mm on a steel frame, wool in the cavity | .15 .10 .06 .04 .04 .05 | VOR
plasterboard-air | Plasterboard on a frame, 100 mm of air | .30 .12 .08 .06 .06 .05 | EUR
plasterboard-glass-wool | Plasterboard on a frame, 100 mm with glass wool | .08 .11 .05 .03 .02 .03 | EUR
plasterboard-ceiling | Plasterboard ceiling on battens, large void | .20 .15 .10 .08 .04 .02 | VOR
plaster-on-brick | Plaster (gypsum or lime) on brick or tile | .013 .015 .02 .03 .04 .05 | BAR T27
plaster-on-lath | Plaster on lath, smooth | .14 .10 .06 .04 .04 .03 | BAR T27
"""

_MASONRY = """
brick-painted | Brick, painted | .01 .01 .02 .02 .02 .03 | BAR T27 AEX
brick-unglazed | Brick, unglazed | .03 .03 .03 .04 .05 .07 | BAR T27 AEX
brick-rendered | Brick, rendered | .01 .02 .02 .03 .03 .04 | VOR
concrete-painted | Poured concrete, painted | .01 .01 .01 .02 .02 .02 | BAR
concrete-unpainted | Poured concrete, unpainted | .01 .01 .02 .02 .02 .03 | BAR
concrete-smooth | Smooth unpainted concrete | .01 .01 .02 .02 .02 .05 | VOR
block-painted | Concrete block, painted | .10 .05 .06 .07 .09 .08 | BAR T27 AEX
block-coarse | Concrete block, coarse | .36 .44 .31 .29 .39 .25 | BAR T27 AEX
"""

_FLOORS = """
wood-floor-joists | Wood floor on joists | .15 .11 .10 .07 .06 .07 | T27
stage-floor | Stage floor, 27 mm over air | .10 .07 .06 .06 .06 .06 | VOR
parquet-on-concrete | Parquet on concrete | .04 .04 .07 .06 .06 .07 | T27
linoleum-on-concrete | Linoleum or vinyl on concrete | .02 .03 .03 .03 .03 .02 | VOR | The old US list prints 0.03 at 4 kHz.
carpet-heavy-concrete | Carpet, heavy, on concrete | .02 .06 .14 .37 .60 .65 | T27 COX AEX
carpet-thin-concrete | Carpet, thin, cemented to concrete | .02 .04 .08 .20 .35 .40 | VOR
carpet-heavy-pad | Carpet, heavy, on a pad (1.35 kg/m² felt or foam) | .08 .24 .57 .69 .71 .73 | T27 COX VOR AEX
carpet-heavy-latex | Carpet, heavy, on a pad, with latex backing | .08 .27 .39 .34 .48 .63 | T27 COX
carpet-loop-hair-pad | Carpet, loop pile 1.4 kg/m² on a hair pad of 3 kg/m² | .10 .40 .62 .70 .63 .88 | VOR COX
"""

_OPENINGS = """
window-glass | Window glass, ordinary | .35 .25 .18 .12 .07 .04 | T27 | Other tables print 0.08 to 0.15 at 125 Hz.
glass-heavy-plate | Glass, large heavy plates | .18 .06 .04 .03 .02 .02 | T27
glass-single | Glass, single pane of 3 mm | .08 .04 .03 .03 .02 .02 | VOR
glass-double-narrow | Glass, double 2–3 mm, gap of 10 mm | .10 .07 .05 .03 .02 .02 | VOR
glass-double-wide | Glass, double 2–3 mm, gap above 30 mm | .15 .05 .03 .03 .02 .02 | VOR
door-solid | Door, solid wood | .14 .10 .06 .08 .10 .10 | VOR | Another table disagrees above 1 kHz.
door-solid-other-list | Door, solid wood, by another list | .10 .07 .05 .04 .04 .04 | BAR | Another table disagrees above 1 kHz.
wood-panelling | Wood panelling, 16 mm on studs of 40 mm | .18 .12 .10 .09 .08 .07 | VOR
"""

_CLOTH = """
velour-light | Velour, light, 10 oz, hung straight | .03 .04 .11 .17 .24 .35 | T27
velour-medium | Velour, medium, 14 oz, draped to half its area | .07 .31 .49 .75 .70 .60 | T27
velour-heavy | Velour, heavy, 18 oz, draped to half its area | .14 .35 .55 .72 .70 .65 | T27 | Another table prints 0.77 at 1 kHz and 0.60 at 4 kHz.
curtain-light | Curtain, 0.2 kg/m², 90 mm off the wall | .05 .06 .39 .63 .70 .73 | VOR
"""

_ABSORBERS = """
tile-acoustical | Acoustical tile, 3/4 in, cemented | .09 .28 .78 .84 .73 .64 | EVE
tile-fissured | Ceiling tile, fissured | .49 .53 .53 .75 .92 .99 | VOR
fabric-panel-6-pcf | Fabric panel, core of 6 lb/ft³ | .46 .93 1 1 1 1 | VOR | Printed with 1 as the highest.
fabric-panel-8-pcf | Fabric panel, core of 8 lb/ft³ | .21 .66 1 1 .97 .98 | VOR | Printed with 1 as the highest.
wool-50-40-kg | Mineral wool board, 50 mm, 40 kg/m³ | .23 .59 .86 .86 .86 .86 | VOR
wool-50-80-kg | Mineral wool board, 50 mm, 80 kg/m³ | .22 .60 .92 .90 .88 .88 | VOR
wool-50-glued | Mineral wool, 50 mm, 40 kg/m³, glued to the wall | .15 .70 .60 .60 .85 .90 | VOR
wool-50-air | Mineral wool, 50 mm, 70 kg/m³, over 300 mm of air | .70 .45 .65 .60 .75 .65 | VOR
"""


def _read(table: str) -> Iterator[KnownFinish]:
    for line in table.strip().splitlines():
        key, name, values, marks, *remark = (part.strip() for part in line.split("|"))
        shares = tuple(Decimal(value) for value in values.split())
        yield KnownFinish(key, name, shares, tuple(marks.split()), *remark)


FINISHES = tuple(
    finish
    for table in (_PLASTER, _MASONRY, _FLOORS, _OPENINGS, _CLOTH, _ABSORBERS)
    for finish in _read(table)
)
"""What comes with the program, in the order of the tables."""
