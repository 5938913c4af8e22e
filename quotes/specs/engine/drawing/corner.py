"""A level cut through a corner panel, looking down, with the corner it stands across."""

from __future__ import annotations

from math import sqrt

from quotes.specs.engine.drawing.faces import run
from quotes.specs.engine.drawing.paper import Panel, Paper, part_name, rising
from quotes.specs.engine.drawing.wood import hatched
from quotes.specs.engine.result import Box, WoodPart
from quotes.specs.engine.words import ClothRole, PartRole
from shared.drawing import Callout, Scale, Side, Spot, View, callouts, dimension, title
from shared.drawing.hatch import wool
from shared.drawing.pens import CLOTH, CUT, FINE, WALL_TINT, WOOL_TINT, Pen

_WALL_MM = 4.0
_BEYOND_SHARE = 8
_CLOTH_OFF_MM = 0.55


def corner_view(panel: Panel, paper: Paper, scale: Scale) -> View:
    """Draw the cut at half height: frame, fill, battens and both walls, front below.

    Coordinates are (x, z): x from the left edge, z back from the front face. The walls
    meet at a right angle behind the middle, as the takeoff assumes.
    """
    view = View(scale)
    _walls(view, panel)
    pieces = _cut_pieces(panel)
    _fill(view, panel, [corners for part, corners in pieces])
    for part, corners in pieces:
        hatched(view, panel, part, corners)
    _cloth(view, panel)
    callouts(view, Side.LEFT, _names(panel, paper, pieces))
    _dimensions(view, panel, paper)
    title(view, "From above", f"cut at half height, front below, {scale}")
    return view


def _touch(panel: Panel) -> int:
    """Return the depth of the edge that touches the walls: the stiles' outside face."""
    faces = [p.short_face_ticks for p in panel.takeoff.parts_of(PartRole.STILE)]
    return min(faces, default=panel.depth)


def _apex(panel: Panel) -> int:
    """Return the depth of the room's corner behind the front, as the takeoff has it."""
    return panel.takeoff.hang.projection_ticks or _touch(panel) + panel.width // 2


def _walls(view: View, panel: Panel) -> None:
    half, apex = panel.width // 2, _apex(panel)
    reach = half + panel.width // _BEYOND_SHARE
    thick = round(view.scale.ticks(_WALL_MM) * sqrt(2))
    face = [(half - reach, apex - reach), (half, apex), (half + reach, apex - reach)]
    outside = [(x, z + thick) for x, z in face]
    view.polygon([*face, *reversed(outside)], Pen(0, fill=WALL_TINT))
    view.polyline(face, CUT)


def _cut_pieces(panel: Panel) -> list[tuple[WoodPart, tuple[Spot, ...]]]:
    level = panel.height // 2
    found = [
        (part, _outline(panel, part, place))
        for part, place in panel.placed()
        if place.y_ticks <= level <= place.y_ticks + place.height_ticks
    ]
    for part in panel.takeoff.parts_of(PartRole.BATTEN):
        found += [(part, corners) for corners in _battens(panel, part)]
    return found


def _outline(panel: Panel, part: WoodPart, place: Box) -> tuple[Spot, ...]:
    """Return the cut face; a bevelled stile is shorter on its outside."""
    x0, z0 = place.x_ticks, place.z_ticks
    x1, z1 = x0 + place.width_ticks, z0 + place.depth_ticks
    drop = part.long_face_ticks - part.short_face_ticks
    if part.role is not PartRole.STILE or not drop:
        return (x0, z0), (x1, z0), (x1, z1), (x0, z1)
    on_left = x0 + x1 < panel.width
    left, right = (drop, 0) if on_left else (0, drop)
    return (x0, z0), (x1, z0), (x1, z1 - right), (x0, z1 - left)


def _battens(panel: Panel, part: WoodPart) -> list[tuple[Spot, ...]]:
    """Return a batten flat on each wall.

    It lies under the stile's bevel where the takeoff leaves room for one, else it begins
    where the stile's inner face ends.
    """
    side = (panel.width - panel.takeoff.clear.width_ticks) // 2
    along, out = (
        round(n / sqrt(2)) for n in (part.rip_width_ticks, part.thickness_ticks)
    )
    behind = _apex(panel) - _touch(panel) - panel.width // 2
    # Along the wall's face, x and z grow alike; z = x + wall_z.
    wall_z = _apex(panel) - panel.width // 2
    x = (side - behind // 2 - along) // 2 if behind >= out else side
    left = (
        (x, x + wall_z),
        (x + out, x + wall_z - out),
        (x + out + along, x + wall_z - out + along),
        (x + along, x + wall_z + along),
    )
    right = tuple((panel.width - a, b) for a, b in left)
    return [left, right][: max(1, part.count)]


def _fill(view: View, panel: Panel, cut: list[tuple[Spot, ...]]) -> None:
    if not panel.takeoff.fills:
        return
    depths = panel.takeoff.depths
    z0, z1 = depths.air_front_ticks, depths.air_front_ticks + depths.fill_ticks
    # Battens begin behind the fill's back edge or are let into it at the bench.
    wood = [c for c in cut if min(z for _, z in c) < z1 and max(z for _, z in c) > z0]
    upright = sorted((min(x for x, _ in c), max(x for x, _ in c)) for c in wood)
    at = 0
    for low, high in [*upright, (panel.width, panel.width)]:
        if low > at:
            wool(view, view.rect((at, z0), (low, z1), FINE.filled(WOOL_TINT)))
        at = max(at, high)


def _cloth(view: View, panel: Panel) -> None:
    if not panel.has_cloth(ClothRole.FRONT):
        return
    low, high = view.at((0, 0)), view.at((panel.width, _touch(panel)))
    off = _CLOTH_OFF_MM
    course = [
        type(low)(low.x - off, high.y),
        type(low)(low.x - off, low.y + off),
        type(low)(high.x + off, low.y + off),
        type(low)(high.x + off, high.y),
    ]
    view.shape(course, CLOTH, closed=False)


def _names(
    panel: Panel, paper: Paper, pieces: list[tuple[WoodPart, tuple[Spot, ...]]]
) -> list[Callout]:
    found: list[Callout] = []
    if panel.has_cloth(ClothRole.FRONT):
        found.append(Callout((panel.width // 3, 0), "Front fabric"))
    depths = panel.takeoff.depths
    if panel.takeoff.fills:
        middle = depths.air_front_ticks + depths.fill_ticks // 2
        found.append(Callout((panel.width // 4, middle), "Fill"))
    seen: set[str] = set()
    for part, corners in pieces:
        if part.label not in seen:
            seen.add(part.label)
            n = len(corners)
            middle_spot = (
                sum(x for x, _ in corners) // n,
                sum(z for _, z in corners) // n,
            )
            found.append(Callout(middle_spot, part_name(part, paper)))
    touch = paper.length(panel.takeoff.hang.batten_ticks)
    return [*found, Callout((0, _touch(panel)), f"{touch} from the corner")]


def _dimensions(view: View, panel: Panel, paper: Paper) -> None:
    depths, hang = panel.takeoff.depths, panel.takeoff.hang
    side = (panel.width - panel.takeoff.clear.width_ticks) // 2
    run(view, Side.BELOW, rising(0, side, panel.width - side, panel.width), paper)
    dimension(view, Side.BELOW, 0, panel.width, paper.length(panel.width))
    front, back = depths.air_front_ticks, panel.depth - depths.air_behind_ticks
    run(view, Side.RIGHT, rising(0, front, back, panel.depth), paper)
    dimension(view, Side.RIGHT, 0, panel.depth, paper.length(panel.depth))
    if hang.projection_ticks:
        text = paper.length(hang.projection_ticks)
        dimension(view, Side.RIGHT, 0, hang.projection_ticks, text)
