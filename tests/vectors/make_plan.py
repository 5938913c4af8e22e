"""Writes plan.json, what the readings of walls say: the same on the server and on the device.

Expected figures are worked out in tests/vectors/decimals.py's decimals, or stand in the
hand-written table; never do they come from the engine under test. The words are its own.
Run it from the project's root:

    python -m tests.vectors.make_plan
"""

import random
from decimal import Decimal
from itertools import pairwise
from pathlib import Path

from shop.surveys.engine import PLAN_WORDS
from tests.vectors.decimals import (
    INCH,
    MM,
    arc_cosine,
    as_text,
    cosine,
    in_ticks,
    mm_text,
    places_text,
    sine,
    whole,
)

FILE = Path(__file__).with_name("plan.json")

# Each wall: name, length in mm, corner, inside angle in degrees, diagonal in mm. Expected:
# closing in ticks, walls to read again, what is said. Worked out by hand.
HAND = [
    (
        "a true rectangle",
        [("A", 4000), ("B", 3000), ("C", 4000), ("D", 3000)],
        (0, "", ["The walls close to 0 mm, 0.00% of the round."]),
    ),
    (
        "a rectangle read 25 mm long in A",  # 25 / 14025
        [("A", 4025), ("B", 3000), ("C", 4000), ("D", 3000)],
        (
            8000,
            "AC",
            [
                "The walls don’t close: the walk ends 25 mm from where it began, 0.18% of"
                " the round. Read walls A and C again first, the longest before the others."
            ],
        ),
    ),
    (
        "a rectangle off by 3 and 4 mm",  # a 3-4-5 triangle; 5 / 14007
        [("A", 4003), ("B", 3004), ("C", 4000), ("D", 3000)],
        (1600, "BD", ["The walls close to 5 mm, 0.04% of the round."]),
    ),
    (
        "a share that is half of the last figure",  # 25 / 20000 is 0.125%
        [("A", 6025), ("B", 3987.5), ("C", 6000), ("D", 3987.5)],
        (
            8000,
            "AC",
            [
                "The walls don’t close: the walk ends 25 mm from where it began, 0.13% of"
                " the round. Read walls A and C again first, the longest before the others."
            ],
        ),
    ),
    (
        "an L",
        [("A", 6000), ("B", 4000), ("C", 3000), ("D", 1600, "left"), ("E", 3000), ("F", 2400)],
        (0, "", ["The walls close to 0 mm, 0.00% of the round."]),
    ),
    (
        "an alcove, one of its cheeks read 12 mm short",  # 12 / 23788
        [
            ("A", 2000, "left"), ("B", 900), ("C", 2000), ("D", 888, "left"),
            ("E", 2000), ("F", 3000), ("G", 6000), ("H", 3000),
        ],
        (
            3840,
            "BDFH",
            [
                "The walls don’t close: the walk ends 12 mm from where it began, 0.06% of"
                " the round. Read walls B, D, F and H again first, the longest before the"
                " others."
            ],
        ),
    ),
    (
        "a cut corner, its hypotenuse rounded",  # 1200 by 1200 is 1697.056
        [
            ("A", 4800, "angle", 135), ("B", 1697, "angle", 135), ("C", 2600),
            ("D", 6000), ("E", 3800),
        ],
        (18, "B", ["The walls close to 0.1 mm, 0.00% of the round."]),
    ),
    (
        "an even triangle",
        [(name, 2000, "angle", 60) for name in "ABC"],
        (0, "", ["The walls close to 0 mm, 0.00% of the round."]),
    ),
    (
        "a rectangle tied by its diagonals",  # 3-4-5
        [(name, side, "diagonal", None, 5000) for name, side in zip("ABCD", (4000, 3000) * 2, strict=True)],
        (0, "", ["The walls close to 0 mm, 0.00% of the round."]),
    ),
    (
        "a triangle that can't be",
        [("A", 4000, "diagonal", None, 7000), ("B", 3000), ("C", 4000), ("D", 3000)],
        (
            None,
            "",
            [
                "The diagonal over the corner after wall A can’t be: no triangle has such"
                " sides. Read it and both walls again."
            ],
        ),
    ),
    (
        "two walls not read",
        [("A", 4000), ("B", None), ("C", 4000), ("D", None)],
        (None, "", ["Not read yet: walls B and D."]),
    ),
    (
        "an angle not read",
        [("A", 4000, "angle"), ("B", 3000), ("C", 4000)],
        (None, "", ["Not read yet: wall A."]),
    ),
    (
        "a corner put in the wrong way",
        [("A", 4000), ("B", 3000, "left"), ("C", 4000), ("D", 3000)],
        (
            3200000,  # turns right, left, right: 4 + 4 m along, 3 + 3 m across
            "AC",
            [
                "The corners don’t make one round: they turn by 180° in all, where it"
                " should be 360°. One of them is put in the wrong way, or a wall is missing."
            ],
        ),
    ),
    ("two walls alone", [("A", 4000), ("B", 3000)], (None, "", [])),
]  # fmt: skip


def hand_cases():
    for name, walls, (closing, again, said) in HAND:
        read = [
            [wall, in_ticks(mm), corner, inside and inside * 1000, in_ticks(diagonal)]
            for wall, mm, corner, inside, diagonal in map(filled, walls)
        ]
        places = ["ABCDEFGH".index(letter) for letter in again]
        yield [name, read, closing, places, said]


def filled(wall):
    return (*wall, *(None, None, "right", None, None)[len(wall) :])


def opened(a, b, c):
    """The angle inside a triangle, in degrees."""
    return arc_cosine(Decimal(a * a + b * b - c * c) / (2 * a * b))


def listed(names):
    *most, last = names
    return f"walls {', '.join(most)} and {last}" if most else f"wall {last}"


def turn_of(walls, n):
    _, length, corner, inside, diagonal = walls[n]
    if corner == "angle":
        return 180_000 - inside
    if corner == "diagonal":
        angle = opened(length, walls[(n + 1) % len(walls)][1], diagonal)
        return 180_000 - whole(angle * 1000)
    return {"right": 90_000, "left": -90_000}[corner]


def walked(walls):
    """Go round by headings in degrees; return where it ends, and all headings."""
    x = y = Decimal(0)
    headings, turned = [], 0
    for n, (_, length, *_) in enumerate(walls):
        headings.append(Decimal(turned) / 1000)
        x += length * cosine(headings[-1])
        y -= length * sine(headings[-1])
        turned += turn_of(walls, n)
    # What is left of a right angle's cosine would decide which of two like axes is worse.
    x, y = (one.quantize(Decimal("1e-20")) for one in (x, y))
    return x, y, headings, turned


def again_of(x, y, headings, square):
    if not whole(x) and not whole(y):
        return []
    if square:
        x, y = (
            (Decimal(1), Decimal(0)) if abs(x) >= abs(y) else (Decimal(0), Decimal(1))
        )
    size = (x * x + y * y).sqrt()
    off = [abs(cosine(at) * y + sine(at) * x) / size for at in headings]
    limit = max(min(off), sine(Decimal(20))) + Decimal("1e-9")
    return [n for n, one in enumerate(off) if one <= limit]


def plan_case(name, walls):
    """Work a closed walk out from nothing but its readings."""
    x, y, headings, turned = walked(walls)
    read = any(corner in ("angle", "diagonal") for _, _, corner, *_ in walls)
    again = again_of(x, y, headings, not read)
    closing, perimeter = (x * x + y * y).sqrt(), sum(wall[1] for wall in walls)
    miss = abs(turned - 360_000)
    key = "closing" if closing > 10 * MM else "closes"
    other = places_text(closing / perimeter * 100, 2) + "%"
    if miss and not (read and miss <= 2000):
        key = "angles" if read and miss <= 20_000 else "turns"
        other = places_text(Decimal(turned) / 1000, 1).removesuffix(".0") + "°"
    names = listed([walls[n][0] for n in again]) if again else ""
    said = PLAN_WORDS[key].format(mm_text(whole(closing)), wall=names, other=other)
    return [name, walls, whole(closing), again, [said]]


SHAPES = {
    "rectangle": [(0, 0), (4, 0), (4, 3), (0, 3)],
    "L": [(0, 0), (6, 0), (6, 4), (3, 4), (3, 2.4), (0, 2.4)],
    "U": [(0, 0), (6, 0), (6, 4), (4.5, 4), (4.5, 1.5), (1.5, 1.5), (1.5, 4), (0, 4)],
    "T": [(0, 0), (6, 0), (6, 2), (4, 2), (4, 5), (2, 5), (2, 2), (0, 2)],
    "cut": [(0, 0), (4.8, 0), (6, 1.2), (6, 3.8), (0, 3.8)],
    "bay": [(0, 0), (1.5, -0.7), (3.2, -0.7), (4.7, 0), (4.7, 4), (0, 4)],
    "wedge": [(0, 0), (5, 0), (4.4, 3.6), (0.3, 2.9)],
    "niche": [(0, 0), (4, 0), (4, 1), (3.4, 1.5), (4, 2.1), (4, 4), (0, 4)],
}


def stretched(rng, points):
    """Scale a shape both ways, in ticks; right angles stay right."""
    across, along = (rng.uniform(0.6, 1.9) * 1000 * MM for _ in "xy")
    return [(round(x * across), round(y * along)) for x, y in points]


def sides(points):
    ends = [*points[1:], points[0]]
    return [(c - a, d - b) for (a, b), (c, d) in zip(points, ends, strict=True)]


def inside_at(one, two):
    """The angle inside between two sides as walked, in degrees; y goes down."""
    (a, b), (c, d) = one, two
    cross, size = a * d - b * c, Decimal((a * a + b * b) * (c * c + d * d)).sqrt()
    square = abs(cross) == size
    angle = Decimal(90) if square else arc_cosine((a * c + b * d) / size)
    return 180 - angle if cross > 0 else 180 + angle


def read_as(rng, size, step):
    """A reading to the step of its rule, now and then with a slip in it."""
    error = rng.choice((0, 0, 0, 1, -1, 2, -3)) * step
    if rng.random() < 0.08:
        error += rng.choice((-1, 1)) * rng.randint(10, 400) * MM
    return max(step, round(size / step) * step + error)


def made_walls(rng, points):
    step = rng.choice((MM, MM // 2, INCH // 16, INCH // 8))
    found = sides(points)
    following = [*found[1:], found[0]]
    walls = []
    for n, (one, two) in enumerate(zip(found, following, strict=True)):
        inside, length = inside_at(one, two), Decimal(one[0] ** 2 + one[1] ** 2).sqrt()
        corner = {Decimal(90): "right", Decimal(270): "left"}.get(inside, "angle")
        corner = "diagonal" if corner != "left" and rng.random() < 0.2 else corner
        corner = "diagonal" if corner == "angle" and rng.random() < 0.3 else corner
        corner = "angle" if inside > 180 and corner == "diagonal" else corner
        span = Decimal((one[0] + two[0]) ** 2 + (one[1] + two[1]) ** 2).sqrt()
        angle = int((inside * 2).quantize(Decimal(1)) * 500) + rng.choice(
            (0, 0, 0, 500, -250)
        )
        angle += 4000 * (rng.random() < 0.03)
        walls.append([
            "ABCDEFGH"[n], read_as(rng, length, step), corner,
            angle if corner == "angle" else None,
            round(span / step) * step if corner == "diagonal" else None,
        ])  # fmt: skip
    return walls


def possible(walls):
    """Whether each diagonal spans a triangle; one that does not is a hand case."""
    return all(
        wall[4] is None or abs(wall[1] - after[1]) < wall[4] < wall[1] + after[1]
        for wall, after in pairwise([*walls, walls[0]])
    )


def plans():
    yield from hand_cases()
    rng, made = random.Random(1808), 0
    while made < 240:
        name = rng.choice(list(SHAPES))
        walls = made_walls(rng, stretched(rng, SHAPES[name]))
        if possible(walls):
            made += 1
            yield plan_case(f"{name} {made}", walls)


if __name__ == "__main__":
    FILE.write_text(as_text(plans()))
