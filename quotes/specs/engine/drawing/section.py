"""A cut from front to back through a panel, its dull stretches left out."""

from __future__ import annotations

from quotes.specs.engine.drawing.cut import Slice, fill_in_cut, slices
from quotes.specs.engine.drawing.faces import run
from quotes.specs.engine.drawing.lie import Lie
from quotes.specs.engine.drawing.paper import Panel, Paper, part_name, rising
from quotes.specs.engine.drawing.surroundings import building, hung_from, on_feet
from quotes.specs.engine.drawing.wood import hatched
from quotes.specs.engine.words import BackStyle, ClothRole, Hanging, PartRole
from shared.drawing import (
    BrokenAxis,
    Callout,
    Point,
    Scale,
    View,
    callouts,
    dimension,
    title,
    windows_around,
)
from shared.drawing.hatch import wool
from shared.drawing.pens import (
    BLANK,
    CLOTH,
    EDGE_TINT,
    FINE,
    SOFT_INK,
    WOOL_TINT,
    Pen,
)

_MARGIN_MM = 8.0
_LEAST_GAP_MM = 12.0
_GAP_MM = 5.0
_BREAK_OVER_MM = 1.5
# Cloth is thinner than its line: it is drawn just outside the wood, lining within it.
_CLOTH_OFF_MM = 0.55
_LINING_OFF_MM = 1.15
_LINING = Pen(0.3, SOFT_INK, dash_mm=(1.2, 0.6))


def section_view(panel: Panel, paper: Paper, scale: Scale, cut_x: int) -> View:
    """Draw the cut at A-A, in ticks from the left; what is left out shows as breaks."""
    lie = Lie(level=panel.takeoff.hang.kind is Hanging.CHAIN)
    cut = slices(panel, cut_x)
    axis = _axis(panel, cut, scale)
    view = lie.view(axis)
    ground = lie.spot(0, 0), lie.spot(panel.depth, panel.height)
    view.rect(*ground, FINE.filled(EDGE_TINT))
    _fill(view, lie, panel, cut)
    for piece in cut:
        hatched(view, panel, piece.part, [lie.spot(*c) for c in piece.corners])
    hung_from(view, lie, panel, off_mm=_CLOTH_OFF_MM)
    _cloths(view, lie, panel)
    building(view, lie, panel, max(z for piece in cut for z in piece.zs))
    _breaks(view, lie, axis)
    on_feet(view, lie, panel)
    callouts(view, lie.names_side, _names(panel, paper, cut, axis, lie))
    _dimensions(view, lie, panel, paper, cut)
    title(view, "Section A–A", f"{lie.words}, {scale}")
    return view


def _axis(panel: Panel, cut: tuple[Slice, ...], scale: Scale) -> BrokenAxis:
    features = [piece.ys for piece in cut]
    if panel.takeoff.hang.stand_ticks:
        features.append((-panel.takeoff.hang.stand_ticks, 0))
    windows = windows_around(
        features,
        total_ticks=panel.height,
        margin_ticks=scale.ticks(_MARGIN_MM),
        least_gap_ticks=scale.ticks(_LEAST_GAP_MM),
    )
    return BrokenAxis(scale, windows, _GAP_MM)


def _fill(view: View, lie: Lie, panel: Panel, cut: tuple[Slice, ...]) -> None:
    if not panel.takeoff.fills:
        return
    depths = panel.takeoff.depths
    z0, z1 = depths.air_front_ticks, depths.air_front_ticks + depths.fill_ticks
    for low, high in fill_in_cut(cut, panel.height, z0, z1):
        corners = lie.spot(*low), lie.spot(*high)
        wool(view, view.rect(*corners, FINE.filled(WOOL_TINT)))


def _cloths(view: View, lie: Lie, panel: Panel) -> None:
    rails = panel.takeoff.parts_of(PartRole.RAIL)
    turn = min((rail.thickness_ticks for rail in rails), default=0)
    if panel.has_cloth(ClothRole.FRONT):
        _wrapped(view, lie, panel, (turn, _front_off(panel)), CLOTH)
    if panel.has_cloth(ClothRole.LINING):
        _wrapped(view, lie, panel, (turn, _CLOTH_OFF_MM), _LINING)
    if panel.back_style is BackStyle.OVER_BACK_EDGE:
        z, low, high = panel.depth, 0, panel.height
    elif panel.back_style is BackStyle.INSIDE_FRAME:
        z = panel.depth - panel.takeoff.depths.air_behind_ticks
        low, high = turn, panel.height - turn
    else:
        return
    ends = [lie.point(view, z, y, back_mm=_CLOTH_OFF_MM) for y in (low, high)]
    view.shape(ends, CLOTH, closed=False)


def _front_off(panel: Panel) -> float:
    return _LINING_OFF_MM if panel.has_cloth(ClothRole.LINING) else _CLOTH_OFF_MM


def _wrapped(
    view: View, lie: Lie, panel: Panel, turn_and_off: tuple[int, float], pen: Pen
) -> None:
    """Draw cloth over the front and both edges, turned onto the back of the rails."""
    turn, off = turn_and_off
    depth, height = panel.depth, panel.height
    course = [
        lie.point(view, depth, turn, back_mm=off),
        lie.point(view, depth, 0, back_mm=off, up_mm=-off),
        lie.point(view, 0, 0, back_mm=-off, up_mm=-off),
        lie.point(view, 0, height, back_mm=-off, up_mm=off),
        lie.point(view, depth, height, back_mm=off, up_mm=off),
        lie.point(view, depth, height - turn, back_mm=off),
    ]
    view.shape(course, pen, closed=False)


def _breaks(view: View, lie: Lie, axis: BrokenAxis) -> None:
    """Blank out each gap and bound it with a zigzag on either side."""
    body = view.body.grown(_BREAK_OVER_MM)
    ends = (body.top, body.bottom) if lie.level else (body.left, body.right)

    def point(across: float, along: float) -> Point:
        return Point(along, across) if lie.level else Point(across, -along)

    for gap in axis.breaks():
        a, b = axis.mm(gap.start_ticks), axis.mm(gap.end_ticks)
        corners = [(ends[0], a), (ends[1], a), (ends[1], b), (ends[0], b)]
        view.shape([point(*c) for c in corners], BLANK)
        for along in (a, b):
            zigzag = [point(across, along + dy) for across, dy in _zigzag(*ends)]
            view.shape(zigzag, FINE, closed=False)


def _zigzag(start: float, end: float) -> list[tuple[float, float]]:
    middle = (start + end) / 2
    steps = [(start, 0.0), (middle - 1.5, 0.0), (middle - 0.6, -1.3)]
    return [*steps, (middle + 0.6, 1.3), (middle + 1.5, 0.0), (end, 0.0)]


def _names(
    panel: Panel, paper: Paper, cut: tuple[Slice, ...], axis: BrokenAxis, lie: Lie
) -> list[Callout]:
    """Name each kind of piece once, from the top, and the layers in one stretch."""
    found: list[Callout] = []
    seen: set[str] = set()
    for piece in sorted(cut, key=lambda s: -s.ys[1]):
        if piece.part.label not in seen:
            seen.add(piece.part.label)
            name = part_name(piece.part, paper)
            thick = piece.depth // piece.part.thickness_ticks
            if piece.part.role is PartRole.BLOCK and thick > 1:
                name = f"{name}, {thick} layers"
            found.append(Callout(lie.spot(*piece.middle), name))
    window = axis.windows[-1 if lie.level else 0]
    free = _dullest(cut, window.start_ticks, window.end_ticks)
    layers = _layers(panel, paper)
    step = (free[1] - free[0]) // (len(layers) + 1)
    for i, (z, text) in enumerate(layers, start=1):
        found.append(Callout(lie.spot(z, free[1] - i * step), text))
    return found


def _dullest(cut: tuple[Slice, ...], low: int, high: int) -> tuple[int, int]:
    """Return the longest stretch between two heights without cut wood."""
    edges = sorted(piece.ys for piece in cut)
    free, at = [(low, low)], low
    for start, end in edges:
        free.append((at, max(at, min(start, high))))
        at = max(at, end)
    free.append((min(at, high), high))
    return max(free, key=lambda stretch: stretch[1] - stretch[0])


def _layers(panel: Panel, paper: Paper) -> list[tuple[int, str]]:
    """Return each layer from front to back: a depth inside it, and its name."""
    depths = panel.takeoff.depths
    front, back = depths.air_front_ticks, panel.depth - depths.air_behind_ticks
    behind = panel.back_style is BackStyle.INSIDE_FRAME
    over = panel.back_style is BackStyle.OVER_BACK_EDGE
    rows = [
        (panel.has_cloth(ClothRole.FRONT), 0, "Front fabric"),
        (front > 0, front // 2, f"Air {paper.length(front)}"),
        (
            bool(panel.takeoff.fills),
            (front + back) // 2,
            f"Fill {paper.length(back - front)}",
        ),
        (behind, back, "Back fabric"),
        (
            depths.air_behind_ticks > 0,
            (back + panel.depth) // 2,
            f"Air {paper.length(depths.air_behind_ticks)}",
        ),
        (over, panel.depth, "Back fabric"),
    ]
    return [(z, text) for wanted, z, text in rows if wanted]


def _dimensions(
    view: View, lie: Lie, panel: Panel, paper: Paper, cut: tuple[Slice, ...]
) -> None:
    depths = panel.takeoff.depths
    front, back = depths.air_front_ticks, panel.depth - depths.air_behind_ticks
    side = lie.depth_side
    run(view, side, rising(0, front, back, panel.depth), paper)
    dimension(view, side, 0, panel.depth, paper.length(panel.depth))
    edges = [y for piece in cut if piece.part.on_panel for y in piece.ys]
    edges += _opening(panel)
    if panel.takeoff.hang.stand_ticks:
        edges.append(-panel.takeoff.hang.stand_ticks)
        for foot in panel.takeoff.parts_of(PartRole.FOOT):
            ends = (
                foot.places[0].z_ticks,
                foot.places[0].z_ticks + foot.cut_length_ticks,
            )
            dimension(view, side, *ends, paper.length(foot.cut_length_ticks))
    run(view, lie.length_side, rising(0, panel.height, *edges), paper)
    for cleat in panel.takeoff.hang.wall_cleats[:1]:
        below = panel.height - cleat.below_top_ticks
        text = paper.length(cleat.below_top_ticks)
        dimension(view, lie.length_side, below, panel.height, text)


def _opening(panel: Panel) -> list[int]:
    """Return the heights of an opening's sill and head round a reveal panel."""
    hang = panel.takeoff.hang
    if hang.kind is not Hanging.EDGE:
        return []
    out = (panel.takeoff.finished.height_ticks - panel.height) // 2 + hang.gap_ticks
    return [-out, panel.height + out]
