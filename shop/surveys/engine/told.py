"""What is said beside the boxes while a room is read: whether its walls close, what fits in.

The device says the same with no network, in the same words (kernel/survey.js); both are
held to tests/vectors/plan.json and opening.json. Change them together.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from shop.surveys.engine.adjust import suspects, turn_by_diagonal
from shop.surveys.engine.checks import contradictions, trueness
from shop.surveys.engine.errors import SurveyError
from shop.surveys.engine.findings import WORDS, fixed, listed
from shop.surveys.engine.opening import Fit, Readings, Shape, fit_in, shape_of
from shop.surveys.engine.outline import FULL_TURN, QUARTER, WallLine
from shop.surveys.engine.room import OpeningIn, RoomIn, WallIn

VERSION = "told-1"

Show = Callable[[int], str]

PLAN_WORDS = {
    "unread": "Not read yet: {wall}.",
    "closes": "The walls close to {0}, {other} of the round.",
} | {key: WORDS[key] for key in ("closing", "turns", "angles", "tie")}
"""The sentences about the walls; the server's own where it finds the same."""

OPENING_WORDS = {
    "smallest": "At its smallest {0} wide and {1} high.",
    "leans": "It leans by {0} ({other}°) over its height.",
    "fits": "With its fabric, a panel of {0} by {1} goes in, {2} less on every side.",
    "untold": "With its fabric, a panel of {0} by {1} is {2} less on every side; read both"
    " diagonals to tell whether it goes in.",
    "too_wide": "With its fabric, a panel of {0} by {1} does not go in while it leans.",
    "nothing": "Nothing is left for a panel with {2} less on every side.",
} | {key: WORDS[key] for key in ("widths", "high", "square", "diagonals")}
"""The sentences about one opening."""

_TURNS = {"right": QUARTER, "left": -QUARTER}


@dataclass(frozen=True, slots=True)
class WallRead:
    """A wall as far as it is read; nothing stands for what is not.

    `corner` is right, left, angle (then `inside_millidegrees` counts) or diagonal.
    """

    name: str
    length_ticks: int | None
    corner: str = "right"
    inside_millidegrees: int | None = None
    diagonal_ticks: int | None = None


@dataclass(frozen=True, slots=True)
class PlanTold:
    """Whether the walls close.

    Attributes
    ----------
    closing_ticks, perimeter_ticks, turned_millidegrees
        To the nearest tick; nothing where not all is read or a diagonal can't be.
    again
        Which walls to read again, by their place in the walk.
    sentences
        What is said; empty for fewer than three walls.
    """

    closing_ticks: int | None = None
    perimeter_ticks: int | None = None
    turned_millidegrees: int | None = None
    again: tuple[int, ...] = ()
    sentences: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class OpeningTold:
    """What follows from an opening's readings."""

    shape: Shape
    fit: Fit | None
    sentences: tuple[str, ...]


def plan_told(walls: Sequence[WallRead], show: Show) -> PlanTold:
    """Say whether the walls close, lengths printed by `show`.

    Parameters
    ----------
    walls
        In the order walked, clockwise; those taken out are left out.
    """
    if len(walls) < 3:
        return PlanTold()
    turns = [_turn(one, two) for one, two in zip(walls, _after(walls), strict=True)]
    unread = [w.name for w, turn in zip(walls, turns, strict=True) if turn is None]
    if unread:
        words = PLAN_WORDS["unread"].format(wall=listed(unread))
        return PlanTold(sentences=(words,))
    ties = [w.name for w, turn in zip(walls, turns, strict=True) if turn == FULL_TURN]
    if ties:
        said = tuple(PLAN_WORDS["tie"].format(wall=name) for name in ties)
        return PlanTold(sentences=said)
    return _closing(RoomIn(tuple(map(_wall_in, walls, turns))), show)


def _after(walls: Sequence[WallRead]) -> list[WallRead]:
    return [*walls[1:], walls[0]]


def _turn(wall: WallRead, after: WallRead) -> int | None:
    """Return the turn at a wall's end; nothing while unread, a full one where it can't be."""
    if not wall.length_ticks:
        return None
    if wall.corner in _TURNS:
        return _TURNS[wall.corner]
    if wall.corner == "diagonal":
        return _tied(wall.length_ticks, after.length_ticks, wall.diagonal_ticks)
    inside = wall.inside_millidegrees
    return None if inside is None else FULL_TURN // 2 - inside


def _tied(one: int, two: int | None, diagonal: int | None) -> int | None:
    if not two or not diagonal:
        return None
    try:
        return turn_by_diagonal(one, two, diagonal)
    except SurveyError:
        return FULL_TURN


def _wall_in(wall: WallRead, turn: int | None) -> WallIn:
    read = wall.corner in ("angle", "diagonal")
    return WallIn(wall.name, WallLine(wall.length_ticks or 0, turn or 0, read))


def _closing(room: RoomIn, show: Show) -> PlanTold:
    plan = room.plan
    told = [f.sentence(show) for f in contradictions(room) if f.key in PLAN_WORDS]
    closes = PLAN_WORDS["closes"].format(
        show(round(plan.closing_ticks)), other=f"{fixed(plan.closing_share * 100, 2)}%"
    )
    return PlanTold(
        round(plan.closing_ticks),
        plan.perimeter_ticks,
        plan.turned_millidegrees,
        suspects(room.lines),
        tuple(told) or (closes,),
    )


def opening_told(
    readings: Readings,
    show: Show,
    *,
    name: str,
    clearance_ticks: int,
    gets_panel: bool,
) -> OpeningTold:
    """Say what follows from an opening's readings, lengths printed by `show`."""
    shape = shape_of(readings)
    fit = fit_in(shape, clearance_ticks=clearance_ticks)
    said = [("smallest", (shape.width_ticks, shape.height_ticks), "")]
    if shape.lean and round(shape.lean.lean_ticks):
        tilt = fixed(abs(shape.lean.degrees), 1)
        said.append(("leans", (abs(round(shape.lean.lean_ticks)), 0), tilt))
    if gets_panel:
        said.append(_fits(fit))
    amounts = [[show(n) for n in (*pair, clearance_ticks)] for _, pair, _ in said]
    told = [
        OPENING_WORDS[key].format(*shown, other=other)
        for (key, _, other), shown in zip(said, amounts, strict=True)
    ]
    found = [f.sentence(show) for f in trueness(OpeningIn(name, "", readings))]
    return OpeningTold(shape, fit, (told[0], *found, *told[1:]))


def _fits(fit: Fit | None) -> tuple[str, tuple[int, int], str]:
    if fit is None:
        return "nothing", (0, 0), ""
    key = {None: "untold", True: "fits", False: "too_wide"}[fit.goes_in]
    return key, (fit.width_ticks, fit.height_ticks), ""
