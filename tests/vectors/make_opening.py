"""Writes opening.json, what the readings of an opening say: the same on the server and on the device.

Expected figures are worked out in tests/vectors/decimals.py's decimals, or stand in the
hand-written table; never do they come from the engine under test. The words are its own.
Run it from the project's root:

    python -m tests.vectors.make_opening
"""

import random
from decimal import Decimal
from pathlib import Path

from shop.surveys.engine import OPENING_WORDS
from tests.vectors.decimals import (
    INCH,
    MM,
    arc_cosine,
    as_text,
    in_ticks,
    mm_text,
    places_text,
    whole,
)

FILE = Path(__file__).with_name("opening.json")

# widths, heights, rising right, rising left in mm; clearance in mm; gets a panel; expected:
# smallest, spreads, lean, fit with whether it goes in (all mm), and what is said.
OPENINGS = [
    (
        "one reading", ([900], [1200], None, None, 3, False),
        ((900, 1200), (0, 0), None, (894, 1194, None)),
        ["At its smallest 900 mm wide and 1200 mm high."],
    ),
    (
        "three of each", ([905, 900, 902], [1200, 1201, 1200], None, None, 3, True),
        ((900, 1200), (5, 1), None, (894, 1194, None)),
        [
            "At its smallest 900 mm wide and 1200 mm high.",
            "The widths of bay differ by 5 mm. Read them again, or expect a gap.",
            "With its fabric, a panel of 894 mm by 1194 mm is 3 mm less on every side; read both diagonals"
            " to tell whether it goes in.",
        ],
    ),
    (
        "true by its diagonals", ([900], [1200], 1500, 1500, 3, True),
        ((900, 1200), (0, 0), 0, (894, 1194, True)),
        [
            "At its smallest 900 mm wide and 1200 mm high.",
            "With its fabric, a panel of 894 mm by 1194 mm goes in, 3 mm less on every side.",
        ],
    ),
    (
        # (1510² - 1490²) / (4 · 900) = 16.667 mm; its sine is 1/72, and 883.3 is left
        "leans to the right", ([900], [1200], 1510, 1490, 3, True),
        ((900, 1200), (0, 0), Decimal(50) / 3, (894, 1194, False)),
        [
            "At its smallest 900 mm wide and 1200 mm high.",
            "The diagonals of bay differ by 20 mm: it is out of square.",
            "It leans by 16.7 mm (0.8°) over its height.",
            "With its fabric, a panel of 894 mm by 1194 mm does not go in while it leans.",
        ],
    ),
    (
        "diagonals of something else", ([900], [1200], 1600, 1600, 3, False),
        ((900, 1200), (0, 0), 0, (894, 1194, True)),
        [
            "At its smallest 900 mm wide and 1200 mm high.",
            "The diagonals of bay don’t belong to its width and height: they should be"
            " near 1500 mm.",
        ],
    ),
    (
        "nothing left", ([5], [1200], None, None, 3, True),
        ((5, 1200), (0, 0), None, None),
        [
            "At its smallest 5 mm wide and 1200 mm high.",
            "Nothing is left for a panel with 3 mm less on every side.",
        ],
    ),
]  # fmt: skip


def opening_cases():
    for name, (widths, heights, right, left, clearance, panel), told, said in OPENINGS:
        read = [
            [mm * MM for mm in widths], [mm * MM for mm in heights], in_ticks(right),
            in_ticks(left), clearance * MM, panel,
        ]  # fmt: skip
        smallest, spreads, lean, fit = told
        yield [
            name, read, [mm * MM for mm in smallest], [mm * MM for mm in spreads],
            None if lean is None else whole(Decimal(lean * MM)),
            fit and [fit[0] * MM, fit[1] * MM, fit[2]], said,
        ]  # fmt: skip


def opening_case(name, read):
    """Work an opening out once more, with decimals."""
    widths, heights, right, left, clearance, panel = read
    width, height = min(widths), min(heights)
    spreads = [max(widths) - width, max(heights) - height]
    lean = degrees = None
    if right and left and abs(right**2 - left**2) <= 4 * width * height:
        tilt = Decimal(right**2 - left**2) / (4 * width * height)
        lean, degrees = height * tilt, abs(90 - arc_cosine(tilt))
    size = [width - 2 * clearance, height - 2 * clearance]
    goes = None if lean is None else size[0] <= width - abs(lean)
    fit = [*size, goes] if min(size) > 0 else None
    said = [("smallest", [width, height]), *untrue(read, width, height, spreads)]
    if lean is not None and whole(lean):
        said.append(("leans", [abs(whole(lean)), 0]))
    if panel:
        key = {None: "untold", True: "fits", False: "too_wide"}[goes]
        said.append((key, size) if fit else ("nothing", [0, 0]))
    values = {"name": "bay", "other": degrees is not None and places_text(degrees, 1)}
    sentences = []
    for key, sizes in said:
        shown = map(mm_text, [*sizes, *[clearance] * (3 - len(sizes))])
        words = OPENING_WORDS[key].format(*shown, **values)
        sentences.append(words[:1].upper() + words[1:])
    lean = None if lean is None else whole(lean)
    return [name, read, [width, height], spreads, lean, fit, sentences]


def untrue(read, width, height, spreads):
    known = [d for d in read[2:4] if d]
    for key, by in zip(("widths", "high"), spreads, strict=True):
        if by > INCH // 8:
            yield key, [by]
    if not known:
        return
    ideal = Decimal(width**2 + height**2).sqrt()
    mean = (Decimal(known[0] ** 2 + known[-1] ** 2) / 2).sqrt()
    if abs(mean - ideal) > ideal * Decimal("0.02") / len(known):
        yield "diagonals", [whole(ideal)]
    elif abs(known[0] - known[-1]) > INCH // 4:
        yield "square", [abs(known[0] - known[-1])]


def openings():
    yield from opening_cases()
    rng = random.Random(7)
    for n in range(150):
        step = rng.choice((MM, INCH // 16))
        width, height = (rng.randint(300, 2400) * MM // step * step for _ in "wh")
        off = [0, 0, 1, -1, 2, 5]
        read = [
            [width + rng.choice(off) * step for _ in range(rng.choice((1, 3)))]
            for width in (width, height)
        ]
        ideal = int(Decimal(width**2 + height**2).sqrt()) // step * step
        for _ in range(2):
            far = rng.choice((0, 0, 1, -2, 6, -9, 30)) * step
            read.append(None if rng.random() < 0.2 else ideal + far)
        clearance = rng.choice((3 * MM, INCH // 8, 0, 10 * MM))
        yield opening_case(f"opening {n + 1}", [*read, clearance, rng.random() < 0.6])


if __name__ == "__main__":
    FILE.write_text(as_text(openings()))
