"""What the panel weighs, line by line, with everything in it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from quotes.specs.engine.bench import Bench
from quotes.specs.engine.materials import flat_kg, mass_basis, wood_kg
from quotes.specs.engine.measure import square_metres
from quotes.specs.engine.notation import number
from quotes.specs.engine.result import (
    Box,
    CentreOfMass,
    Cloth,
    Depths,
    FillPiece,
    ItemCount,
    Mass,
    MassLine,
    WoodPart,
)
from quotes.specs.engine.words import ClothRole, Driver, EndCut

Spot = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class _Weighed:
    """A line of the mass and where its middle lies."""

    line: MassLine
    spot: Spot


def weigh(
    bench: Bench,
    parts: tuple[WoodPart, ...],
    soft: tuple[tuple[Cloth, ...], tuple[FillPiece, ...], Depths],
    items: tuple[ItemCount, ...],
) -> Mass:
    """Return the mass of wood, fill, fabric, hardware and consumables.

    Wood by real volume (bevels, mitres and laps taken off), fill and fabric by cut
    size, items by what one weighs. Spares weigh nothing here, nor do items counted
    once a job.
    """
    cloths, fills, depths = soft
    weighed = [_wood(bench, part) for part in parts]
    weighed += [_fill(bench, piece, depths) for piece in fills]
    weighed += [_cloth(bench, cloth) for cloth in cloths]
    weighed += [_item(bench, item) for item in items if _has_mass(bench, item)]
    return Mass(tuple(w.line for w in weighed), _centre(weighed))


def _wood(bench: Bench, part: WoodPart) -> _Weighed:
    stock = bench.materials[part.stock]
    face = (part.long_face_ticks + part.short_face_ticks) / 2
    length = mean_length(part)
    kg = part.count * wood_kg(stock, face, length)
    size = bench.notation.size(round(face), part.thickness_ticks, round(length))
    how = f"{part.count} × {size} at {mass_basis(stock)}"
    return _Weighed(MassLine(part.label, kg, part.on_panel, how), _middle(part.places))


def mean_length(part: WoodPart) -> float:
    """Return the length in ticks that, times the section, is the part's volume.

    A mitre halves each end's corner; a half-lap takes half the width over one
    thickness at each end, which is one thickness in all.
    """
    if part.end is EndCut.HALF_LAP:
        return part.cut_length_ticks - part.thickness_ticks
    return (part.cut_length_ticks + part.inside_length_ticks) / 2


def _middle(places: tuple[Box, ...]) -> Spot:
    if not places:
        return (0.0, 0.0, 0.0)
    count = len(places)
    return (
        sum(b.x_ticks + b.width_ticks / 2 for b in places) / count,
        sum(b.y_ticks + b.height_ticks / 2 for b in places) / count,
        sum(b.z_ticks + b.depth_ticks / 2 for b in places) / count,
    )


def _fill(bench: Bench, piece: FillPiece, depths: Depths) -> _Weighed:
    stock = bench.materials[piece.material]
    kg = piece.count * flat_kg(stock, piece.width_ticks, piece.height_ticks)
    sides = (piece.width_ticks, piece.height_ticks, piece.thickness_ticks)
    how = f"{piece.count} × {bench.notation.size(*sides)} at {mass_basis(stock)}"
    spot = _face_middle(bench, depths.air_front_ticks + depths.fill_ticks / 2)
    return _Weighed(MassLine(stock.name, kg, on_panel=True, how=how), spot)


def _face_middle(bench: Bench, z_ticks: float) -> Spot:
    frame = bench.sizes.frame
    return (frame.width_ticks / 2, frame.height_ticks / 2, z_ticks)


def _cloth(bench: Bench, cloth: Cloth) -> _Weighed:
    stock = bench.materials[cloth.material]
    kg = flat_kg(stock, cloth.width_ticks, cloth.height_ticks)
    size = bench.notation.size(cloth.width_ticks, cloth.height_ticks)
    how = f"{size} at {mass_basis(stock)}"
    label = f"{stock.name} ({cloth.role})"
    return _Weighed(
        MassLine(label, kg, on_panel=True, how=how),
        _face_middle(bench, _cloth_depth(bench, cloth)),
    )


def _cloth_depth(bench: Bench, cloth: Cloth) -> float:
    """Return the mean depth of a cloth: its face in front, the rest round the sides."""
    frame = bench.sizes.frame
    if cloth.role is ClothRole.BACK:
        return float(frame.depth_ticks)
    face = float(square_metres(frame.width_ticks, frame.height_ticks))
    rest = 1 - face / float(cloth.area_m2)
    return frame.depth_ticks / 2 * rest


def _has_mass(bench: Bench, item: ItemCount) -> bool:
    weighs = bench.materials[item.material].mass_g_each > 0
    return weighs and item.driver is not Driver.JOB


def _item(bench: Bench, item: ItemCount) -> _Weighed:
    stock = bench.materials[item.material]
    kg = float(item.quantity) * stock.mass_g_each / 1000
    how = f"{number(item.quantity)} {stock.unit} × {stock.mass_g_each:g} g"
    return _Weighed(
        MassLine(stock.name, kg, not item.for_site, how),
        _face_middle(bench, bench.sizes.frame.depth_ticks / 2),
    )


def _centre(weighed: list[_Weighed]) -> CentreOfMass:
    on_panel = [w for w in weighed if w.line.on_panel]
    total = math.fsum(w.line.kg for w in on_panel)
    x, y, z = (
        round(math.fsum(w.line.kg * w.spot[axis] for w in on_panel) / total)
        for axis in range(3)
    )
    return CentreOfMass(x, y, z)
