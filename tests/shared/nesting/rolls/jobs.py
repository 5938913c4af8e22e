"""Roll jobs to plan: the cloth of a shop of acoustic panels, and random rectangles."""

import random

from shared.length import TICKS_PER_INCH, TICKS_PER_MM
from shared.nesting.rolls import Laying, Roll, RollJob, part_of

# Panel sizes, depths, wrap, bolt and selvedge: inches, or millimetres.
INCHES = (
    [(24, 48), (24, 24), (48, 48), (24, 72), (12, 48), (36, 60)],
    [1, 2, 3, 4],
    2,
    (66, 0.5),
)
MILLIMETRES = (
    [(600, 1200), (600, 600), (1200, 1200), (300, 1200), (600, 1800), (900, 1500)],
    [25, 50, 75, 100],
    50,
    (1680, 15),
)


def shop_job(panels, *, seed, laying=Laying.STACKS, turns=None):
    """Return the front cloth of so many panels of one fabric, half the sizes odd.

    ``turns``: whether it may be turned, by chance where None; a cloth with grain lies
    the same way on every panel.
    """
    r = random.Random(seed * 1000 + panels)
    inches = r.random() < 0.5
    unit = TICKS_PER_INCH if inches else TICKS_PER_MM
    odd, most_odd = (127, 300) if inches else (TICKS_PER_MM, 120)
    sizes, depths, wrap, (bolt, selvedge) = INCHES if inches else MILLIMETRES
    around = 2 * (r.choice(depths) + wrap)
    turning = r.choice(["no", "all alike", "freely"])
    if turns is not None:
        turning = "freely" if turns else "no"
    parts, number = [], 0
    while panels > 0:
        count = min(panels, r.choice([1, 1, 2, 2, 3, 4, 6, 8]))
        panels -= count
        across, along = (
            (side + around) * unit
            - (r.randint(1, most_odd) * odd if r.random() < 0.5 else 0)
            for side in r.choice(sizes)
        )
        parts.append(
            part_of(
                f"p{number}",
                across,
                along,
                count,
                may_turn=turning != "no",
                group="grain" if turning == "all alike" else "",
            )
        )
        number += 1
    roll = Roll("bolt", bolt * unit, round(selvedge * unit))
    return RollJob((roll,), tuple(parts), laying=laying)


def cut_apart(pieces, width, length, *, seed):
    """Cut a rectangle apart at random, edge to edge: its length is the optimum."""
    r = random.Random(seed)
    rects = [(width, length)]
    while len(rects) < pieces:
        rects.sort(key=lambda rect: -rect[0] * rect[1])
        across, along = rects.pop(r.randrange(max(1, len(rects) // 2)))
        share = r.uniform(0.2, 0.8)
        if across > along:
            cut = min(across - 1, max(1, round(across * share)))
            rects += [(cut, along), (across - cut, along)]
        elif along > 1:
            cut = min(along - 1, max(1, round(along * share)))
            rects += [(across, cut), (across, along - cut)]
        else:
            rects.append((across, along))
    return rects


def random_rects(pieces, low, high, *, seed):
    """Return so many rectangles with both sides from low to high."""
    r = random.Random(seed)
    return [(r.randint(low, high), r.randint(low, high)) for _ in range(pieces)]


def strip_job(rects, width, *, laying=Laying.STACKS, turns=False):
    """Return the job of laying rectangles on a roll of this width, in least length."""
    parts = [part_of(f"p{i}", *rect, may_turn=turns) for i, rect in enumerate(rects)]
    return RollJob((Roll("roll", width),), tuple(parts), laying=laying)
